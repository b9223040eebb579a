// A finger on the ring picture: it goes to the part, or ticks it as in the way. The list beside it does the same.

function show(group, isTicked) {
  for (const one of group.querySelectorAll(".sector, .name")) {
    const kind = one.classList[0];
    one.classList.toggle(`${kind}-off`, isTicked);
    one.classList.toggle(`${kind}-on`, !isTicked);
  }
}

function boxOf(part) {
  return document.querySelector(`input[name=behind][value="${CSS.escape(part)}"]`);
}

document.addEventListener("click", (event) => {
  const goes = event.target.closest("[data-goes]")?.dataset.goes;
  if (goes) location.assign(goes);
  const group = event.target.closest("[data-ticks]");
  const box = group && boxOf(group.dataset.ticks);
  if (!box) return;
  box.checked = !box.checked;
  show(group, box.checked);
});

document.addEventListener("change", (event) => {
  if (!event.target.matches("input[name=behind]")) return;
  const group = document.querySelector(`[data-ticks="${CSS.escape(event.target.value)}"]`);
  if (group) show(group, event.target.checked);
});
