// Small helpers for building the page.

/** An element with properties and children; `on...` are listeners, `aria...` and `data...` attributes. */
export function h(tag, props = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name in element && !name.includes("-") && name !== "list" && name !== "form") element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** Puts these children in place of the present ones. */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false));
}

/** An id for a path such as `sleeve.cap`. */
export const idOf = (path) => `f-${path.replaceAll(".", "-").replaceAll("_", "-")}`;

let speaking;

/** Says a sentence to a screen reader once the page has come to rest. */
export function say(sentence) {
  clearTimeout(speaking);
  speaking = setTimeout(() => {
    document.getElementById("spoken").textContent = sentence;
  }, 700);
}

/** Shows a sentence at the head of the page, with what can be done about it; an empty one takes it away. */
export function notice(sentence, ways) {
  const place = document.getElementById("notice");
  place.hidden = !sentence;
  fill(place, sentence, sentence && ways, sentence && h("button", { type: "button", onclick: () => notice("") }, "Close"));
}

/** A group of choices of which one is taken. */
export function choices(legend, name, words, taken, choose, help) {
  const buttons = words.map(([word, label]) =>
    h(
      "label",
      {},
      h("input", {
        type: "radio",
        id: `${name}-${word}`,
        name,
        value: word,
        checked: word === taken,
        onchange: () => choose(word),
      }),
      h("span", {}, label),
    ),
  );
  return h("fieldset", { className: "choices" }, h("legend", {}, legend), help && h("p", { className: "help" }, help), h("div", {}, buttons));
}

/** Tabs as the ARIA practices describe them: arrows move, one is in the tab order. */
export function tabs(label, entries, chosen, choose, panel) {
  const list = h("div", { role: "tablist", "aria-label": label, className: "tabs" });
  entries.forEach(([key, text, hint], place) => {
    const tab = h(
      "button",
      {
        type: "button",
        role: "tab",
        id: `tab-${panel}-${place}`,
        "aria-selected": String(key === chosen),
        "aria-controls": panel,
        tabindex: key === chosen ? 0 : -1,
        onclick: () => choose(key),
        onkeydown: (event) => {
          const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
          const to = event.key === "Home" ? 0 : event.key === "End" ? entries.length - 1 : step && (place + step + entries.length) % entries.length;
          if (to === undefined) return;
          event.preventDefault();
          choose(entries[to][0]);
          document.getElementById(`tab-${panel}-${to}`)?.focus();
        },
      },
      text,
      hint && h("span", { className: "unseen" }, ` (${hint})`),
      hint && h("span", { className: "mark", "aria-hidden": "true" }, " !"),
    );
    list.append(tab);
  });
  return list;
}

/** Rebuilds a part of the page and gives the focus back to what had it. */
export function keepingFocus(rebuild) {
  const had = document.activeElement?.id;
  rebuild();
  if (had && document.activeElement?.id !== had) document.getElementById(had)?.focus({ preventScroll: true });
}

/** A region that may scroll sideways, for tables and figures wider than the page. */
export const wide = (label, ...children) => h("section", { className: "wide", tabIndex: 0, "aria-label": label }, children);

/** A table with a heading for every column and every row. */
export function table(caption, columns, rows) {
  return wide(
    caption,
    h(
      "table",
      {},
      h("caption", { className: "unseen" }, caption),
      h("thead", {}, h("tr", {}, columns.map((column) => h("th", { scope: "col" }, column)))),
      h("tbody", {}, rows.map(([first, ...cells]) => h("tr", {}, h("th", { scope: "row" }, first), cells.map((cell) => h("td", {}, cell))))),
    ),
  );
}
