// A bench page that stays open: sends a press without loading everything anew, and looks every two seconds
// whether another window pressed. Without this file every form works all the same.

const LOOK_AGAIN_MS = 2000;
const live = document.getElementById("live");
const offLine = document.getElementById("off-line");

// Fragments come from this server only; the policy's name stands in the page's Content-Security-Policy.
const policy = window.trustedTypes?.createPolicy("fingertight", { createHTML: (text) => text });

let seen = live?.dataset.seen ?? "";
let swaps = 0;
const pressed = []; // forms on their way, in the order they were pressed; the first is being answered

function heard() {
  offLine.hidden = true;
  document.getElementById("last-heard").textContent = new Date().toLocaleTimeString();
}

// What a person has opened, typed or focused survives the swap.
function remember() {
  const open = new Map([...live.querySelectorAll("details[id]")].map((one) => [one.id, one.open]));
  const typed = new Map();
  for (const field of live.querySelectorAll("input[id], select[id], textarea[id]")) {
    if (field.value !== (field.defaultValue ?? "") && field.type !== "radio" && field.type !== "checkbox") typed.set(field.id, field.value);
  }
  const focus = document.activeElement;
  const shelf = live.querySelector(".bags");
  return { open, typed, focus: live.contains(focus) ? focus.id : "", shelf: shelf?.scrollLeft ?? 0, bags: shelf?.children.length ?? 0 };
}

function restore(kept, afterPress) {
  for (const [id, open] of kept.open) {
    const one = document.getElementById(id);
    if (one && !(afterPress && one.classList.contains("move"))) one.open = open;
  }
  if (!afterPress) for (const [id, value] of kept.typed) {
    const field = document.getElementById(id);
    if (field) field.value = value;
  }
  showShelf(kept);
  if (kept.focus) document.getElementById(kept.focus)?.focus({ preventScroll: true });
}

// The bag that came last is in view; who looked further back stays there until another bag comes.
function showShelf(kept) {
  const shelf = live.querySelector(".bags");
  if (!shelf) return;
  const grew = shelf.children.length > kept.bags;
  shelf.scrollLeft = grew && shelf.dataset.newest === "last" ? shelf.scrollWidth : kept.shelf;
}

function swap(text, etag, afterPress) {
  const kept = remember();
  live.innerHTML = policy ? policy.createHTML(text) : text;
  seen = etag ?? "";
  swaps += 1;
  restore(kept, afterPress);
}

async function ask(address, options) {
  const answer = await fetch(address, { ...options, headers: { "X-Fragment": "live", ...options.headers } });
  heard();
  return answer;
}

async function look() {
  if (pressed.length || document.hidden || choosing()) return;
  const drawn = swaps;
  try {
    const answer = await ask(live.dataset.live, { headers: { "If-None-Match": seen } });
    if (answer.status !== 200) return;
    const text = await answer.text();
    // A press was answered, or is on its way: what was looked up before it is old.
    if (drawn === swaps && !pressed.length && !choosing()) swap(text, answer.headers.get("ETag"), false);
  } catch {
    offLine.hidden = false;
  }
}

// A half-answered question is not swapped away under the finger.
function choosing() {
  return live.querySelector("input[type=radio]:checked") !== null;
}

// A press while another is on its way waits its turn; the same form pressed twice is one press.
async function press(event) {
  event.preventDefault();
  const form = event.target, button = event.submitter;
  const body = new URLSearchParams(new FormData(form, button));
  if (pressed.some((one) => one.body.get("id") === body.get("id"))) return;
  button?.setAttribute("aria-busy", "true");
  if (pressed.push({ address: form.action.split("#")[0], body }) > 1) return;
  while (pressed.length) {
    const kept = await send(pressed[0]);
    const unsent = pressed.splice(0, kept ? 1 : pressed.length).length - 1;
    if (unsent) document.getElementById("problem")?.append(" What was pressed after it was not sent: press it again.");
  }
  for (const one of live.querySelectorAll("button[aria-busy]")) one.removeAttribute("aria-busy");
}

async function send({ address, body }) {
  try {
    const answer = await ask(address, { method: "POST", body });
    if (answer.status === 403 || !answer.headers.get("ETag")) return location.reload();
    swap(await answer.text(), answer.headers.get("ETag"), answer.ok);
    document.getElementById("problem")?.scrollIntoView({ block: "center" });
    return answer.ok;
  } catch {
    offLine.hidden = false;
    return false;
  }
}

// The instrument drawn at what is being typed: does yours look like this?
const DRAW_AFTER_MS = 200;
let drawing = 0;

let askedFor = 0; // how often an instrument was asked for
async function draw(value) {
  const looks = document.getElementById("looks");
  const draws = (live.querySelector("select[name=instrument] option:checked") ?? looks)?.dataset.draws;
  if (!draws) return;
  const mine = ++askedFor;
  try {
    const answer = await fetch(`/instrument?${draws}&value=${encodeURIComponent(value)}`);
    const text = answer.ok ? await answer.text() : "";
    if (mine !== askedFor) return; // a later reading was asked for, and answered first
    looks.hidden = !text;
    looks.querySelector("div").innerHTML = policy ? policy.createHTML(text) : text;
    document.getElementById("looks-at").textContent = value;
  } catch { /* the picture is a help, and the form works without it */ }
}

if (live) {
  live.addEventListener("input", (event) => {
    if (!event.target.matches("input[data-reads]")) return;
    clearTimeout(drawing);
    drawing = setTimeout(draw, DRAW_AFTER_MS, event.target.value);
  });
  live.addEventListener("submit", (event) => {
    if (event.target.matches("form[data-tap]")) press(event);
  });
  // The ring picture is a picture, for all who do not see it; a finger on a part of it goes to that part all the same.
  live.addEventListener("click", (event) => {
    const goes = event.target.closest("[data-goes]")?.dataset.goes;
    if (goes) location.assign(goes);
  });
  document.addEventListener("visibilitychange", look);
  setInterval(look, LOOK_AGAIN_MS);
  showShelf({ shelf: 0, bags: 0 });
  heard();
}
