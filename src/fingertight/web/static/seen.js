// One move of a film: plays from its start and stops at its end. Without this file the address of the film says the
// same to the browser (#t=start,end); here are “once more”, “slowly”, and a stop that holds after a jump.

const film = document.getElementById("seen");
const again = document.getElementById("again");
const slowly = document.getElementById("slowly");
const starts = Number(film?.dataset.starts), ends = Number(film?.dataset.ends);
let stopped = false; // once it has stopped by itself, whoever plays on wants to see what comes after

function atStart() {
  stopped = false;
  film.currentTime = starts;
}

if (film) {
  again.hidden = slowly.hidden = false;
  film.addEventListener("loadedmetadata", () => {
    if (film.currentTime < starts - 0.5) atStart();
    if (!matchMedia("(prefers-reduced-motion: reduce)").matches) film.play().catch(() => {}); // a browser may want a press
  }, { once: true });
  film.addEventListener("timeupdate", () => {
    if (stopped || film.paused || film.currentTime < ends) return;
    stopped = true;
    film.pause();
  });
  film.addEventListener("seeked", () => { if (film.currentTime < ends - 0.5) stopped = false; });
  film.addEventListener("error", () => { document.getElementById("not-played").hidden = false; });
  again.addEventListener("click", () => { atStart(); film.play().catch(() => {}); });
  slowly.addEventListener("click", () => {
    const slow = film.playbackRate === 1;
    film.playbackRate = slow ? 0.5 : 1;
    slowly.setAttribute("aria-pressed", String(slow));
  });
}
