// The moves of a film along a line: a mark is dragged and the film follows; a field takes where the film stands; what
// was changed and not kept is said. Without this file the times are typed into their fields.

import "./film.js";

const film = document.getElementById("film");
const line = document.getElementById("line");
const form = document.getElementById("moves");
const says = document.getElementById("line-says");
const NEAR_PX = 28, BEFORE_S = 4, STEP_S = 0.1;
const marks = new Map(); // by move: its mark on the line
let ends = Number(line?.dataset.ends) || 1;
let held = null;

// Seconds of "12:34", "1:02:03.5", "90"; NaN where it is no time.
function read(text) {
  if (!/^\s*(\d+:){0,2}\d+([.,]\d+)?\s*$/.test(text)) return NaN;
  return text.trim().replace(",", ".").split(":").reduce((sum, piece) => 60 * sum + Number(piece), 0);
}

function written(seconds) {
  const tenths = Math.round(Math.max(seconds, 0) * 10);
  const minutes = Math.floor(tenths / 600), rest = (tenths % 600) / 10;
  const last = (rest < 10 ? "0" : "") + (Number.isInteger(rest) ? rest : rest.toFixed(1));
  if (minutes < 60) return `${minutes}:${last}`;
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}:${last}`;
}

function field(key) { return document.getElementById(`at-${key}`); }

function place(mark, seconds) {
  mark.setAttribute("transform", `translate(${Math.min(Math.max(seconds / ends, 0), 1) * 1000})`);
}

function placeAll() {
  for (const [key, mark] of marks) {
    const at = read(field(key)?.value ?? "");
    if (!Number.isNaN(at)) place(mark, at);
  }
  now();
}

function now() {
  if (line && film) place(document.getElementById("line-now"), film.currentTime);
}

// A time was changed: its mark moves, it says that it is not kept, and a proposal that somebody placed is right.
function changed(input) {
  const row = input.closest("[data-row]");
  if (!row) return;
  const was = row.querySelector("input[type=hidden]").value;
  const is = input.value !== was;
  row.querySelector("[data-unkept]").hidden = !is;
  const tick = row.querySelector("input[type=checkbox]");
  if (tick && is) tick.checked = true;
  const at = read(input.value);
  if (marks.has(row.dataset.row) && !Number.isNaN(at)) place(marks.get(row.dataset.row), at);
}

function set(input, seconds) {
  input.value = written(seconds);
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function secondAt(event) {
  const box = line.getBoundingClientRect();
  return Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1) * ends;
}

function nearest(event) {
  const box = line.getBoundingClientRect(), isOff = event.clientY < box.top + box.height / 2;
  let best = null, least = NEAR_PX;
  for (const [key, mark] of marks) {
    if (key.startsWith("off-") !== isOff) continue;
    const away = Math.abs(box.left + (read(field(key).value) / ends) * box.width - event.clientX);
    if (away < least) [best, least] = [key, away];
  }
  return best;
}

function show(key) {
  const title = document.querySelector(`[data-row="${CSS.escape(key)}"] b`)?.textContent ?? "";
  says.textContent = `${title}: ${field(key).value}`;
}

function seek(seconds) {
  if (film.readyState) film.currentTime = Math.min(seconds, film.duration || seconds);
}

function take(event) {
  if (event.button !== 0) return;
  const key = nearest(event);
  if (!key) return seek(secondAt(event));
  held = { key, x: event.clientX, moved: false };
  line.setPointerCapture(event.pointerId);
  film.pause();
  show(key);
  seek(read(field(key).value));
}

function drag(event) {
  if (!held) return;
  if (!held.moved && Math.abs(event.clientX - held.x) < 4) return;
  held.moved = true;
  marks.get(held.key).classList.add("line-held");
  const at = Math.round(secondAt(event) / STEP_S) * STEP_S;
  set(field(held.key), at);
  show(held.key);
  if (!film.seeking) seek(at);
}

function drop() {
  if (!held) return;
  marks.get(held.key).classList.remove("line-held");
  if (held.moved) seek(read(field(held.key).value));
  held = null;
}

// How long the film is, is known once it is there: the line is as long, and what stands behind its end is said.
function measured() {
  const until = Number(line?.dataset.until) || 0, length = film.duration;
  if (line && Number.isFinite(length)) ends = Math.max(length, until, 1);
  const short = document.getElementById("too-short");
  short.hidden = !(Number.isFinite(length) && until > length + 1);
  if (!short.hidden) short.textContent = `The film ends at ${written(Math.floor(length))}, and moves or captions stand until ${written(Math.floor(until))}. Is it the film of these captions, and whole?`;
  for (const one of document.querySelectorAll("[data-here], [data-look]")) one.hidden = false;
  placeAll();
  const before = Number(sessionStorage.getItem(kept()));
  if (before && !film.currentTime) seek(before);
}

function kept() { return `film at ${location.pathname}`; }

if (film) {
  for (const mark of line?.querySelectorAll("[data-key]") ?? []) if (field(mark.dataset.key)) marks.set(mark.dataset.key, mark);
  film.addEventListener("loadedmetadata", measured);
  if (film.readyState) measured();
  film.addEventListener("error", () => {
    const said = document.getElementById("too-short");
    said.hidden = !film.getAttribute("src");
    said.textContent = "This browser cannot play the film. Make it MP4 (H.264) or WebM; times can be typed all the same.";
  });
  film.addEventListener("timeupdate", now);
  film.addEventListener("seeked", now);
  document.addEventListener("input", (event) => { if (event.target.matches("[data-field]")) changed(event.target); });
  document.addEventListener("click", (event) => {
    const here = event.target.closest("[data-here]"), look = event.target.closest("[data-look]");
    if (here) set(document.getElementById(here.dataset.here), film.currentTime);
    if (!look) return;
    seek(Math.max(read(document.getElementById(look.dataset.look).value) - BEFORE_S, 0));
    film.scrollIntoView({ block: "nearest" });
    film.play().catch(() => {});
  });
  let leaving = false;
  addEventListener("beforeunload", (event) => { if (!leaving && document.querySelector("[data-unkept]:not([hidden])")) event.preventDefault(); });
  form?.addEventListener("submit", () => { leaving = true; if (film.readyState) sessionStorage.setItem(kept(), String(film.currentTime)); });
  for (const input of document.querySelectorAll("[data-field]")) changed(input);
}
if (line) {
  document.getElementById("line-how").hidden = false;
  line.addEventListener("pointerdown", take);
  line.addEventListener("pointermove", drag);
  line.addEventListener("pointerup", drop);
  line.addEventListener("pointercancel", drop);
  placeAll();
}
