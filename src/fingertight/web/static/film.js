// The film is read by the browser from this machine and sent nowhere; a press on a chapter jumps to its place.

const film = document.getElementById("film");
const file = document.getElementById("file");

file?.addEventListener("change", () => {
  if (film.src) URL.revokeObjectURL(film.src);
  film.src = file.files.length ? URL.createObjectURL(file.files[0]) : "";
});

document.querySelector(".chapters")?.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-second]");
  if (!button) return;
  film.currentTime = Number(button.dataset.second);
  film.focus();
});
