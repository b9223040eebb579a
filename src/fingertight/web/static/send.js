// A film that is too large is said to be before it is sent, and that it is on its way while it is. The server looks again.

const film = document.getElementById("film-file");

function gigabytes(bytes) { return (bytes / 1e9).toFixed(1); }

film?.addEventListener("change", () => {
  const size = film.files[0]?.size ?? 0, most = Number(film.dataset.most), free = Number(film.dataset.free);
  let says = "";
  if (size > most) says = `This film has ${gigabytes(size)} GB, and ${gigabytes(most)} are taken at most. Make it smaller, or cut it.`;
  else if (size > free) says = `This film has ${gigabytes(size)} GB, and the disk has room for ${gigabytes(free)}. Make room first.`;
  film.setCustomValidity(says);
  film.reportValidity();
});

film?.form.addEventListener("submit", () => {
  document.getElementById("sending").hidden = false;
  film.form.querySelector("button").setAttribute("aria-busy", "true");
});
