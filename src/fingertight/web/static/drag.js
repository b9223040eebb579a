// An order to drag: a part is picked up at its card, dropped between others, and the server says whether it may go there.
// Without this file the buttons Earlier and Later do the same.

const list = document.getElementById("own-order");
const cost = document.getElementById("own-cost");
const why = document.getElementById("own-why");
const FAR_ENOUGH_PX = 8;
let held = null; // the card in hand: where it was, where the pointer began
let asked = 0;

function placeUnder(x, y) {
  const under = document.elementsFromPoint(x, y).find((one) => one.parentElement === list && one !== held.card);
  if (!under) return null;
  const box = under.getBoundingClientRect();
  const wraps = getComputedStyle(list).gridTemplateColumns.split(" ").length > 1;
  const after = wraps ? x > box.left + box.width / 2 : y > box.top + box.height / 2;
  return { under, after };
}

function addressFor(place) {
  return `${list.dataset.address}&move=${encodeURIComponent(held.card.dataset.part)}&to=${place}`;
}

// What it would cost here, and whether it may: asked while the card is still in the hand.
async function ask() {
  const mine = ++asked;
  const place = [...list.children].indexOf(held.card) + 1;
  try {
    const answer = await (await fetch(addressFor(place), { headers: { Accept: "application/json" } })).json();
    if (mine !== asked || !held) return;
    cost.textContent = String(Math.round(answer.cost_min * 100) / 100);
    why.textContent = answer.refused || "It may go here.";
    why.className = answer.refused ? "warnbox" : "good";
  } catch {
    // the drop will say it
  }
}

list?.addEventListener("pointerdown", (event) => {
  const card = event.target.closest("li");
  if (!card || event.target.closest("button") || event.button !== 0) return;
  if (event.pointerType !== "mouse" && !event.target.closest(".handle")) return; // a finger elsewhere scrolls the page
  held = { card, next: card.nextElementSibling, x: event.clientX, y: event.clientY, moves: false };
  card.setPointerCapture(event.pointerId);
});

list?.addEventListener("pointermove", (event) => {
  if (!held) return;
  if (!held.moves && Math.hypot(event.clientX - held.x, event.clientY - held.y) < FAR_ENOUGH_PX) return;
  held.moves = true;
  held.card.classList.add("in-hand");
  const place = placeUnder(event.clientX, event.clientY);
  if (!place) return;
  const before = place.after ? place.under.nextElementSibling : place.under;
  if (before === held.card || before === held.card.nextElementSibling) return;
  list.insertBefore(held.card, before);
  ask();
});

function letGo(event) {
  if (!held) return;
  const { card, next, moves } = held;
  card.classList.remove("in-hand");
  if (!moves) {
    held = null;
    return;
  }
  if (event.type === "pointercancel") {
    list.insertBefore(card, next);
    held = null;
    return;
  }
  const address = addressFor([...list.children].indexOf(card) + 1);
  held = null;
  location.assign(`${address}#p-${card.dataset.part}`);
}

list?.addEventListener("pointerup", letGo);
list?.addEventListener("pointercancel", letGo);
