
// Ticks are kept by this browser, for this very page: one with another row in it has another key. Where nothing can
// be kept the boxes are ticked all the same.
try {
  const key = `capwright-ticks-${document.querySelector("main").dataset.ticks}`;
  const boxes = [...document.querySelectorAll("td.box input")];
  const kept = localStorage.getItem(key) ?? "";
  boxes.forEach((box, place) => (box.checked = kept[place] === "1"));
  addEventListener("change", () => localStorage.setItem(key, boxes.map((box) => Number(box.checked)).join("")));
} catch {}
