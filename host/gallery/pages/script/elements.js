// Page elements, and the comparing and formatting of texts.

const byId = (id) => document.getElementById(id);

// An element with attributes (`text` is its text) and children. Texts of
// contributions are data: they are only ever set as text, never as markup.
function make(name, attributes, ...held) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes || {})) {
    if (key === "text") element.textContent = value;
    else if (value === true) element.setAttribute(key, "");
    else if (value !== false && value !== null) element.setAttribute(key, value);
  }
  element.append(...held);
  return element;
}

// A canvas for a stencil, blank until painted.
function makePicture(px) {
  const canvas = make("canvas", { width: px, height: px, role: "img" });
  const context = canvas.getContext("2d");
  let image, buffer;
  return {
    canvas,
    stencil: null,
    paint(colours) {
      if (!this.stencil) return false;
      if (!image) {
        image = context.createImageData(px, px);
        buffer = new Uint32Array(image.data.buffer);
      }
      paint(this.stencil, colours, buffer);
      context.putImageData(image, 0, 0);
      return true;
    },
  };
}

// Names folded for searching: lower case without accents, as in the program.
const fold = (text) => text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
  .replace(/ß/g, "ss").replace(/[æ]/g, "ae").replace(/œ/g, "oe").replace(/ø/g, "o").replace(/[đð]/g, "d").replace(/ł/g, "l").replace(/þ/g, "th").replace(/ı/g, "i");
const plain = (text) => fold(text).replace(/[^a-z0-9]/g, "");
const decimal = (value) => String(Math.round(value * 100) / 100);
const many = (n, one, more) => n + " " + (n === 1 ? one : more || one + "s");

// Whether the focused element takes text input.
const isWriting = (target) => target.matches && target.matches("input:not([type=checkbox]):not([type=radio]):not([type=color]), textarea, select");
const hasModifier = (event) => event.ctrlKey || event.metaKey || event.altKey;
