// Fasteners tapped on a sketch: a tap sets one, a tap on it takes it away; how many follows by itself.

const SVG = "http://www.w3.org/2000/svg";
const HALF = 50, NEAR = 7, DOT = 4.5, FILLS = 0.8;

function read(field) {
  return field.value.split(";").filter(Boolean).map((one) => one.split(",").map(Number));
}

function begin(box) {
  const field = box.querySelector("input[type=hidden]");
  const count = document.getElementById(box.dataset.count);
  const told = read(field);
  const reach = Math.max(1e-9, ...told.flat().map(Math.abs));
  let dots = told.map((one) => one.map((value) => (value / reach) * HALF * FILLS));
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", `${-HALF} ${-HALF} ${2 * HALF} ${2 * HALF}`);
  svg.setAttribute("class", "sketch");
  svg.setAttribute("role", "img");
  const clear = document.createElement("button");
  clear.type = "button";
  clear.textContent = "Clear the sketch";

  function draw() {
    svg.replaceChildren();
    svg.setAttribute("aria-label", `Sketch with ${dots.length} fasteners. Tap to add one.`);
    dots.forEach(([x, y], place) => {
      const dot = svg.appendChild(document.createElementNS(SVG, "circle"));
      for (const [name, value] of Object.entries({ cx: x, cy: -y, r: DOT })) dot.setAttribute(name, value);
      const number = svg.appendChild(document.createElementNS(SVG, "text"));
      number.setAttribute("x", x);
      number.setAttribute("y", -y + 1.8);
      number.textContent = String(place + 1);
    });
  }

  function keep() {
    field.value = dots.map((one) => one.map((value) => value.toFixed(1)).join(",")).join(";");
    count.value = dots.length || "";
    draw();
  }

  svg.addEventListener("click", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const near = dots.findIndex(([x, y]) => Math.hypot(x - at.x, -y - at.y) < NEAR);
    if (near >= 0) dots = dots.filter((_, place) => place !== near);
    else dots = [...dots, [at.x, -at.y]];
    keep();
  });
  clear.addEventListener("click", () => {
    dots = [];
    keep();
  });
  box.prepend(svg);
  box.append(clear);
  box.hidden = false;
  draw();
}

for (const box of document.querySelectorAll("[data-count]")) begin(box);
