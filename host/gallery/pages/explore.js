// Explores and recolours the varieties of the gallery: what is shown on
// explore.html and compare.html. Works on what the program wrote into data/,
// opened from disk, without a network.
//
// Texts from contributions are data: they are only ever set as text.
"use strict";

(function () {
  const all = window.pairwise;
  const byName = new Map(all.varieties.map((v) => [v.name, v]));
  const byId = (id) => document.getElementById(id);
  const MOST_COMPARED = 6;

  // ---- Bytes ------------------------------------------------------------

  // DEFLATE (RFC 1951), all of it, into an array that grows.
  const LENGTH_BASE = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
  const LENGTH_MORE = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
  const BACK_BASE = [1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577];
  const CODE_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

  // How many codes there are of each length, and the symbols in their order.
  function huffman(lengths) {
    const count = new Uint16Array(16);
    for (const n of lengths) count[n]++;
    count[0] = 0;
    const next = new Uint16Array(16);
    for (let n = 1; n < 15; n++) next[n + 1] = next[n] + count[n];
    const symbols = new Uint16Array(lengths.length);
    lengths.forEach((n, symbol) => { if (n) symbols[next[n]++] = symbol; });
    return { count, symbols };
  }

  const fixedCodes = () => {
    const lengths = new Array(288).fill(8).fill(9, 144, 256).fill(7, 256, 280);
    return [huffman(lengths), huffman(new Array(30).fill(5))];
  };

  function inflate(bytes) {
    let at = 0, hold = 0, held = 0;
    let out = new Uint8Array(8 * bytes.length + 1024), length = 0;
    const room = (more) => {
      if (length + more <= out.length) return;
      const larger = new Uint8Array(2 * (length + more));
      larger.set(out);
      out = larger;
    };
    const bits = (n) => {
      while (held < n) { hold |= bytes[at++] << held; held += 8; }
      const value = hold & ((1 << n) - 1);
      hold >>>= n;
      held -= n;
      return value;
    };
    const symbol = ({ count, symbols }) => {
      let code = 0, first = 0, index = 0;
      for (let n = 1; n < 16; n++) {
        code |= bits(1);
        if (code - count[n] < first) return symbols[index + code - first];
        index += count[n];
        first = (first + count[n]) << 1;
        code <<= 1;
      }
      throw new Error("damaged data");
    };
    for (let last = 0; !last;) {
      last = bits(1);
      const kind = bits(2);
      if (kind === 0) {
        hold = held = 0;
        const size = bytes[at] | bytes[at + 1] << 8;
        room(size);
        out.set(bytes.subarray(at + 4, at + 4 + size), length);
        at += 4 + size;
        length += size;
        continue;
      }
      let [letters, backs] = kind === 1 ? fixedCodes() : [];
      if (kind === 2) {
        const [n, m, k] = [bits(5) + 257, bits(5) + 1, bits(4) + 4];
        const short = new Array(19).fill(0);
        for (let i = 0; i < k; i++) short[CODE_ORDER[i]] = bits(3);
        const codes = huffman(short);
        const lengths = [];
        while (lengths.length < n + m) {
          const s = symbol(codes);
          if (s < 16) { lengths.push(s); continue; }
          const [value, times] = s === 16 ? [lengths[lengths.length - 1], 3 + bits(2)] : [0, s === 17 ? 3 + bits(3) : 11 + bits(7)];
          for (let i = 0; i < times; i++) lengths.push(value);
        }
        letters = huffman(lengths.slice(0, n));
        backs = huffman(lengths.slice(n));
      }
      for (let s = symbol(letters); s !== 256; s = symbol(letters)) {
        if (s < 256) { room(1); out[length++] = s; continue; }
        const run = LENGTH_BASE[s - 257] + bits(LENGTH_MORE[s - 257]);
        const b = symbol(backs);
        const back = BACK_BASE[b] + bits(b < 4 ? 0 : (b >> 1) - 1);
        room(run);
        for (let i = 0; i < run; i++, length++) out[length] = out[length - back];
      }
    }
    return out.subarray(0, length);
  }

  // ---- Stencils ---------------------------------------------------------

  // Reads a stencil as the program packs it; what the bytes mean stands in the
  // program's source, host/picture/src/stencil/packed.rs.
  function read(letters) {
    const bytes = inflate(Uint8Array.from(atob(letters), (c) => c.charCodeAt(0)));
    let at = 0;
    const number = () => {
      let value = 0;
      for (let shift = 0; ; shift += 7) {
        const byte = bytes[at++];
        value |= (byte & 127) << shift;
        if (byte < 128) return value;
      }
    };
    const section = () => {
      const size = number();
      at += size;
      return bytes.subarray(at - size, at);
    };
    const [width, height, period, recipes] = [number(), number(), number(), number()];
    const back = [bytes[at++], bytes[at++], bytes[at++]];
    const parts = section();
    const start = new Uint32Array(recipes + 1);
    for (let k = 0; k < recipes; k++) start[k + 1] = start[k] + parts[k];
    const fixed = [0, 1, 2].map(() => new Int32Array(recipes));
    const end = number();
    const after = at + end;
    const base = Math.max(back[0], 1);
    const signed = () => { const n = number(); return n & 1 ? -(n + 1) / 2 : n / 2; };
    for (let k = 0, red = 0; k < recipes; k++) {
      red += signed();
      fixed[0][k] = red;
      for (const c of [1, 2]) fixed[c][k] = Math.floor((2 * red * back[c] + base) / (2 * base)) + signed();
    }
    at = after;
    const [high, low] = [section(), section()];
    const weights = Int32Array.from(high, (h, k) => h << 8 | low[k]);
    const [pixels, more, places, fresh] = [section(), section(), section(), section()];
    // The picture without threads, and what must be painted on it.
    const ground = new Uint32Array(width * height);
    const spots = new Uint32Array(width * height), mixtures = new Uint32Array(width * height);
    const threads = new Uint8Array(places.length);
    const met = [];
    let count = 0, m = 0, f = 0, t = 0;
    for (let p = 0; p < pixels.length; p++) {
      let k = pixels[p];
      if (k === 255) { k = more[m] << 16 | more[m + 1] << 8 | more[m + 2]; m += 3; }
      else if (k >= 128) k = 128 + ((k - 128) << 8) + more[m++];
      if (start[k] === start[k + 1]) {
        ground[p] = pixel(fixed[0][k], fixed[1][k], fixed[2][k]);
        continue;
      }
      spots[count] = p;
      mixtures[count++] = k;
      for (let j = start[k]; j < start[k + 1]; j++, t++) {
        const place = places[t];
        const thread = place === 255 ? fresh[f++] : met[place];
        if (place === 255) met.unshift(thread);
        else if (place > 0) { met.splice(place, 1); met.unshift(thread); }
        threads[t] = thread;
      }
    }
    return { width, height, period, start, fixed, weights, ground, spots: spots.slice(0, count), mixtures: mixtures.slice(0, count), threads };
  }

  // A pixel as canvases hold it, from sums in units of 1/32768.
  function pixel(r, g, b) {
    r = r + 16384 >> 15;
    g = g + 16384 >> 15;
    b = b + 16384 >> 15;
    return (0xff000000 | (b > 255 ? 255 : b) << 16 | (g > 255 ? 255 : g) << 8 | (r > 255 ? 255 : r)) >>> 0;
  }

  // Paints a stencil into 32-bit pixels; `colours` holds red, green and blue of
  // every thread until colours begin again.
  function paint(stencil, colours, into) {
    const { start, fixed, weights, spots, mixtures, threads } = stencil;
    const [red, green, blue] = fixed, [cr, cg, cb] = colours;
    into.set(stencil.ground);
    for (let k = 0, t = 0; k < spots.length; k++) {
      const mixture = mixtures[k], end = start[mixture + 1];
      let r = red[mixture], g = green[mixture], b = blue[mixture];
      for (let j = start[mixture]; j < end; j++, t++) {
        const w = weights[j], c = threads[t];
        r += w * cr[c];
        g += w * cg[c];
        b += w * cb[c];
      }
      into[spots[k]] = pixel(r, g, b);
    }
  }

  // ---- Colours ----------------------------------------------------------

  const parts = (hex) => [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16));
  const light = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4);
  const encoded = (v) => {
    v = Math.min(Math.max(v, 0), 1);
    return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * Math.pow(v, 1 / 2.4) - 0.055));
  };

  // A colour as somebody sees it, with the program's own matrices.
  function sees(rgb, who) {
    const sight = all.sights.find((s) => s.id === who);
    if (!sight) return rgb;
    const [r, g, b] = rgb.map(light);
    return sight.matrix.map((m) => encoded(m[0] * r + m[1] * g + m[2] * b));
  }

  // ---- What the visitor has chosen, kept in the address -------------------

  const MEASURES = ["pairs", "pins", "moves", "works"];
  const given = () => all.colours.map((c) => c.rgb);
  const state = { order: [], colours: given() };

  // An order as thread colours, two to a pair; null where it is none.
  function readOrder(text) {
    const threads = [];
    const rest = text.replace(/\s*([A-Z])(?:\/([A-Z]))?\s*/g, (_, left, right) => {
      for (const letter of [left, right || left]) threads.push(letter.charCodeAt(0) - 65);
      return "";
    });
    const fits = rest === "" && threads.every((c) => c < all.colours.length) && all.lengths.includes(threads.length / 2);
    return fits ? threads : null;
  }

  const letter = (c) => String.fromCharCode(65 + c);
  function writeOrder(order, between) {
    const pairs = [];
    for (let k = 0; k < order.length; k += 2) {
      pairs.push(order[k] === order[k + 1] ? letter(order[k]) : letter(order[k]) + "/" + letter(order[k + 1]));
    }
    return pairs.join(between);
  }

  function readAddress() {
    const said = new URLSearchParams(location.hash.slice(1));
    const get = (name) => said.get(name) || "";
    state.order = readOrder(get("order")) || readOrder(all.order) || [0, 0];
    state.colours = given();
    get("colours").split("-").forEach((hex, k) => {
      if (/^[0-9a-f]{6}$/i.test(hex) && k < state.colours.length) state.colours[k] = "#" + hex.toLowerCase();
    });
    state.seen = said.has("seen") ? get("seen") : all.seen_by;
    if (!all.sights.some((s) => s.id === state.seen)) state.seen = "";
    state.threads = get("threads") === "1";
    state.search = get("search");
    for (const name of ["family", "kind", "goes", "sort"]) state[name] = get(name);
    for (const name of MEASURES) state[name] = /^[\d.]*-[\d.]*$/.test(get(name)) ? get(name) : "";
    state.down = get("down") === "1";
    state.pick = get("pick").split(",").filter((name, k, list) => byName.has(name) && list.indexOf(name) === k).slice(0, MOST_COMPARED);
    state.view = ["pairs", "pricking"].includes(get("view")) ? get("view") : "threads";
    state.follow = Math.min(Math.max(parseInt(get("follow"), 10) || 0, 0), 24);
    state.zoom = Math.min(Math.max(parseFloat(get("zoom")) || 1, 1), 4);
    state.lock = get("lock") !== "0";
    state.differ = get("differ") === "1";
  }

  function address() {
    const said = [];
    const say = (name, value, usual) => {
      // What may stand in an address as it is stays readable.
      if (value !== usual && value !== "") said.push(name + "=" + encodeURIComponent(value).replace(/%2F/g, "/").replace(/%2C/g, ",").replace(/%20/g, "+"));
    };
    say("order", writeOrder(state.order, ""), all.order.replace(/ /g, ""));
    say("colours", state.colours.map((c) => c.slice(1)).join("-"), given().map((c) => c.slice(1)).join("-"));
    if (state.seen !== all.seen_by) said.push("seen=" + encodeURIComponent(state.seen));
    say("threads", state.threads ? "1" : "", "");
    for (const name of ["search", "family", "kind", "goes", ...MEASURES, "sort"]) say(name, state[name], "");
    say("down", state.down ? "1" : "", "");
    say("pick", state.pick.join(","), "");
    say("view", state.view, "threads");
    say("follow", state.follow ? String(state.follow) : "", "");
    say("zoom", state.zoom === 1 ? "" : String(state.zoom), "");
    say("lock", state.lock ? "" : "0", "");
    say("differ", state.differ ? "1" : "", "");
    return "#" + said.join("&");
  }

  let written = null;
  function keep() {
    written = address();
    try {
      history.replaceState(null, "", written);
    } catch (refused) {
      location.replace(written);
    }
    for (const link of document.querySelectorAll("a[data-keeps]")) link.href = link.dataset.keeps + written;
  }

  // The colours of all threads until they begin again, as they are seen; where
  // one pair is followed, all others grey.
  function threadColours(period, follow) {
    const seen = state.colours.map((hex) => sees(parts(hex), state.seen));
    const grey = sees(parts(all.grey), state.seen);
    const colours = [0, 1, 2].map(() => new Int32Array(period));
    for (let k = 0; k < period; k++) {
      const rgb = follow && k >> 1 !== follow - 1 ? grey : seen[state.order[k % state.order.length]];
      for (let c = 0; c < 3; c++) colours[c][k] = rgb[c];
    }
    return colours;
  }

  const colourName = (c) => state.colours[c] === all.colours[c].rgb ? all.colours[c].name : state.colours[c];

  // The colours hung, in words.
  function hung() {
    const worn = [...new Set(state.order)].sort((a, b) => a - b);
    const sight = all.sights.find((s) => s.id === state.seen);
    return "hung " + writeOrder(state.order, " ") + " (" + worn.map((c) => letter(c) + " " + colourName(c)).join(", ") + ")" + (sight ? ", as seen " + sight.words : "");
  }

  // ---- Pages ------------------------------------------------------------

  // An element with attributes (`text` is its text) and what it holds.
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

  const fold = (text) => text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
    .replace(/ß/g, "ss").replace(/[æ]/g, "ae").replace(/œ/g, "oe").replace(/ø/g, "o").replace(/[đð]/g, "d").replace(/ł/g, "l").replace(/þ/g, "th").replace(/ı/g, "i");
  const plain = (text) => fold(text).replace(/[^a-z0-9]/g, "");
  const decimal = (value) => String(Math.round(value * 100) / 100);
  const many = (n, what) => n + " " + what + (n === 1 ? "" : "s");

  function seenChoices(select, changed) {
    select.append(make("option", { value: "", text: "everybody" }));
    for (const s of all.sights) select.append(make("option", { value: s.id, text: s.words }));
    select.addEventListener("change", () => { state.seen = select.value; changed(); });
  }

  // A canvas of a stencil that is read when it is first painted.
  function picture(px) {
    const canvas = make("canvas", { width: px, height: px, role: "img" });
    const context = canvas.getContext("2d");
    let image, buffer;
    return {
      canvas,
      stencil: null,
      paint(colours) {
        if (!this.stencil) return;
        if (!image) {
          image = context.createImageData(px, px);
          buffer = new Uint32Array(image.data.buffer);
        }
        paint(this.stencil, colours, buffer);
        context.putImageData(image, 0, 0);
      },
    };
  }

  function explorePage() {
    const grid = byId("grid");
    const cards = all.varieties.map((variety, k) => {
      const drawn = picture(all.small_px);
      drawn.canvas.id = "picture-" + k;
      const name = make("span", { text: variety.title, id: "title-" + k });
      const link = make("a", { href: variety.page, tabindex: -1, "aria-labelledby": name.id, "aria-describedby": drawn.canvas.id }, drawn.canvas, name);
      const line = make("p", { class: "quiet" });
      const chosen = make("input", { type: "checkbox", tabindex: -1, "data-compare": variety.name });
      const label = make("label", { class: "choose" }, chosen, "compare", make("span", { class: "unseen", text: " " + variety.title }));
      const item = make("li", { "data-name": variety.name }, link, line, label);
      chosen.addEventListener("change", () => choose(variety.name, chosen.checked));
      return { variety, drawn, item, link, line, chosen, place: k, near: false, stale: true };
    });
    const byItem = new Map(cards.map((card) => [card.item, card]));
    let shown = cards, active = null;

    // -- Painting

    const colours = () => threadColours(2 * all.pairs, 0);
    function paintCard(card, with_) {
      if (!card.drawn.stencil) card.drawn.stencil = read(all.pictures[card.variety.name]);
      card.drawn.paint(with_);
      card.stale = false;
    }
    // Repaints what can be seen at once, the rest when it comes into view.
    function repaint() {
      const begun = performance.now();
      const with_ = colours(), words = hung();
      for (const card of cards) {
        card.stale = true;
        if (card.near && card.item.isConnected) paintCard(card, with_);
        card.drawn.canvas.setAttribute("aria-label", card.variety.title + ", " + words + ". " + card.variety.travel);
      }
      all.lastRepaint = performance.now() - begun;
    }
    // How long it takes to paint all pictures; the first time, to read them too.
    all.paintAll = () => {
      const begun = performance.now();
      const with_ = colours();
      for (const card of cards) paintCard(card, with_);
      return performance.now() - begun;
    };
    addEventListener("beforeprint", all.paintAll);
    const watch = new IntersectionObserver((entries) => {
      const with_ = colours();
      for (const entry of entries) {
        const card = byItem.get(entry.target);
        card.near = entry.isIntersecting;
        if (card.near && card.stale) paintCard(card, with_);
      }
    }, { rootMargin: "400px" });
    for (const card of cards) watch.observe(card.item);

    // -- Colours and pairs

    const undone = [];
    // Changes the colours or the order, so that it can be taken back. Returns
    // whether anything has changed.
    function change(how) {
      const before = { order: state.order.slice(), colours: state.colours.slice() };
      how();
      if (writeOrder(before.order, "") === writeOrder(state.order, "") && before.colours.join() === state.colours.join()) return false;
      undone.push(before);
      if (undone.length > 200) undone.shift();
      showColours();
      repaint();
      keep();
      return true;
    }
    function undo() {
      const before = undone.pop();
      if (!before) return;
      Object.assign(state, before);
      showColours();
      repaint();
      keep();
      tell("Undone: " + hung());
    }
    const tell = (text) => { byId("said").textContent = text; };

    let brush = 0;
    const dyes = all.colours.map((colour, c) => {
      const radio = make("input", { type: "radio", name: "brush", value: c, id: "brush-" + colour.letter, checked: c === brush });
      const well = make("input", { type: "color", id: "colour-" + colour.letter, "aria-label": "Colour " + colour.letter });
      radio.addEventListener("change", () => { brush = c; });
      // One step to take back for all that is tried out in one dialogue.
      let open = false;
      const set = () => {
        brush = c;
        const dye = () => { state.colours[c] = well.value; };
        if (!open) open = change(dye);
        else { dye(); showColours(); repaint(); keep(); }
      };
      well.addEventListener("input", set);
      well.addEventListener("change", () => { set(); open = false; });
      byId("dyes").append(make("span", { class: "dye" }, make("label", {}, radio, colour.letter), well));
      return { radio, well };
    });

    const row = byId("pairs");
    let hangers = [];
    function rebuildRow() {
      const width = state.threads ? 1 : 2;
      row.replaceChildren();
      hangers = [];
      for (let k = 0; k < state.order.length; k += 2) {
        const pair = make("span", { class: "pair" });
        for (let j = 0; j < 2; j += width) {
          const button = make("button", { type: "button", "data-thread": k + j, "data-pair": k / 2 + 1, tabindex: hangers.length ? -1 : 0 }, make("b"), make("i", { "aria-hidden": "true" }));
          hangers.push({ button, thread: k + j, width });
          pair.append(button);
        }
        row.append(pair);
      }
    }
    function showColours() {
      if (hangers.length * (state.threads ? 1 : 2) !== state.order.length) rebuildRow();
      const seen = state.colours.map((hex) => "rgb(" + sees(parts(hex), state.seen).join(",") + ")");
      for (const { button, thread, width } of hangers) {
        const own = state.order.slice(thread, thread + width);
        const letters = [...new Set(own)].map(letter).join("/");
        button.firstChild.textContent = letters;
        const of = state.threads ? ["left", "right"][thread % 2] + " thread of pair " + (1 + (thread >> 1)) : "pair " + (1 + (thread >> 1));
        button.setAttribute("aria-label", of + ": " + letters + ", " + [...new Set(own)].map(colourName).join(" and "));
        button.lastChild.style.background = own.length > 1 && own[0] !== own[1] ? "linear-gradient(90deg," + seen[own[0]] + " 50%," + seen[own[1]] + " 50%)" : seen[own[0]];
      }
      dyes.forEach(({ radio, well }, c) => {
        well.value = state.colours[c];
        well.setAttribute("aria-label", "Colour " + letter(c) + ", " + colourName(c));
        radio.checked = c === brush;
      });
      byId("length").value = state.order.length / 2;
      byId("threads").checked = state.threads;
      byId("seen").value = state.seen;
      byId("undo").disabled = undone.length === 0;
      byId("hung").textContent = hung();
      const now = writeOrder(state.order, " ");
      for (const button of byId("ready").children) button.setAttribute("aria-pressed", String(button.dataset.order === now));
    }
    function hang(hanger, colour) {
      change(() => {
        const order = state.order.slice();
        for (let j = 0; j < hanger.width; j++) order[hanger.thread + j] = colour;
        state.order = order;
      });
    }
    const hangerOf = (element) => {
      const button = element && element.closest("button[data-thread]");
      return button && row.contains(button) ? hangers.find((h) => h.button === button) : null;
    };
    row.addEventListener("click", (event) => {
      const hanger = hangerOf(event.target);
      if (!hanger) return;
      roveRow(hangers.indexOf(hanger), false);
      hang(hanger, brush);
      tell(hanger.button.getAttribute("aria-label"));
    });
    function roveRow(k, focus) {
      k = Math.min(Math.max(k, 0), hangers.length - 1);
      hangers.forEach((h, j) => { h.button.tabIndex = j === k ? 0 : -1; });
      if (focus) hangers[k].button.focus();
    }
    row.addEventListener("keydown", (event) => {
      const hanger = hangerOf(event.target);
      if (!hanger || event.ctrlKey || event.metaKey || event.altKey) return;
      const k = hangers.indexOf(hanger);
      const to = { ArrowLeft: k - 1, ArrowRight: k + 1, Home: 0, End: hangers.length - 1 }[event.key];
      const colour = event.key.length === 1 ? event.key.toUpperCase().charCodeAt(0) - 65 : -1;
      if (to !== undefined) roveRow(to, true);
      else if (colour >= 0 && colour < all.colours.length) hang(hanger, colour);
      else return;
      event.preventDefault();
    });

    for (const n of all.lengths) byId("length").append(make("option", { value: n, text: many(n, "pair") }));
    byId("length").addEventListener("change", (event) => {
      const n = 2 * Number(event.target.value);
      change(() => { state.order = Array.from({ length: n }, (_, k) => state.order[k % state.order.length]); });
    });
    byId("threads").addEventListener("change", (event) => {
      state.threads = event.target.checked;
      showColours();
      keep();
    });
    for (const { name, order } of all.ready) {
      const threads = readOrder(order);
      if (!threads) continue;
      const button = make("button", { type: "button", text: name, "data-order": writeOrder(threads, " ") });
      button.addEventListener("click", () => { change(() => { state.order = threads.slice(); }); tell(name + ": " + hung()); });
      byId("ready").append(button);
    }
    byId("undo").addEventListener("click", undo);
    seenChoices(byId("seen"), () => { showColours(); repaint(); keep(); });

    // -- Search, filters, order

    const choices = (id, list) => {
      for (const [value, text] of list) byId(id).append(make("option", { value, text }));
    };
    const families = new Map(all.varieties.map((v) => [v.family, v.family_title]));
    choices("family", [...families]);
    const measure = { pairs: "pairs", pins: "pins_per_cm2", moves: "moves_per_cm2", works: "works" };
    const sorts = {
      name: (v) => plain(v.title), pairs: (v) => v.pairs, density: (v) => v.pairs_per_cm, pins: (v) => v.pins_per_cm2,
      moves: (v) => v.moves_per_cm2, works: (v) => v.works, open: (v) => v.open,
    };
    const told = {
      density: (v) => decimal(v.pairs_per_cm) + " pairs per cm", pins: (v) => decimal(v.pins_per_cm2) + " pins per cm²",
      moves: (v) => decimal(v.moves_per_cm2) + " moves per cm²", works: (v) => v.works + (v.works === 1 ? " stitch" : " different stitches"),
      open: (v) => Math.round(v.open) + " % open",
    };
    const goes = { travels: "colours travel", stays: "colours stay", both: "some travel, some stay" };
    const line = (v) => many(v.pairs, "pair") + ", " + many(v.pins, "pin") + "; " + goes[v.goes] + (told[state.sort] ? "; " + told[state.sort](v) : "");

    // `2-4`, `2-`, `-4`.
    const span = (text) => {
      const [from, to] = text.split("-");
      return [from === "" || from === undefined ? -Infinity : Number(from), to === "" || to === undefined ? Infinity : Number(to)];
    };
    function keeps(v) {
      if (state.family && v.family !== state.family) return false;
      if (state.kind && v.kind !== state.kind) return false;
      if (state.goes && v.goes !== state.goes) return false;
      for (const name of MEASURES) {
        if (!state[name]) continue;
        const [from, to] = span(state[name]);
        if (!(v[measure[name]] >= from && v[measure[name]] <= to)) return false;
      }
      const wanted = state.search.trim();
      if (!wanted) return true;
      const folded = plain(wanted), raw = wanted.normalize("NFC").toLowerCase();
      return v.folded.some((name) => folded && name.includes(folded)) || v.names.some((name) => name.normalize("NFC").toLowerCase().includes(raw));
    }
    function arrange() {
      shown = cards.filter((card) => keeps(card.variety));
      const by = sorts[state.sort];
      const sign = state.down ? -1 : 1;
      shown.sort((a, b) => {
        if (by) {
          const [x, y] = [by(a.variety), by(b.variety)];
          if (x !== y) return sign * (x < y ? -1 : 1);
        }
        return by ? a.place - b.place : sign * (a.place - b.place);
      });
      for (const card of shown) card.line.textContent = line(card.variety);
      grid.replaceChildren(...shown.map((card) => card.item));
      if (!shown.includes(active)) active = shown[0] || null;
      rove();
      const n = shown.length;
      byId("found").textContent = n === cards.length ? "All " + n + " varieties are shown." : n + " of " + many(cards.length, "variety").replace("varietys", "varieties") + (n === 1 ? " is" : " are") + " found.";
      byId("nothing").hidden = n > 0;
      byId("grid").hidden = n === 0;
      byId("clear-search").hidden = !state.search;
      byId("clear").disabled = !filtered();
    }
    const filtered = () => [state.search, state.family, state.kind, state.goes, ...MEASURES.map((name) => state[name])].some(Boolean);

    const search = byId("search");
    function showFilters() {
      search.value = state.search;
      for (const id of ["family", "kind", "goes", "sort"]) {
        byId(id).value = state[id];
        if (byId(id).value !== state[id]) byId(id).value = state[id] = "";
      }
      byId("down").checked = state.down;
      for (const name of MEASURES) {
        const [from, to] = state[name] ? span(state[name]) : [-Infinity, Infinity];
        byId(name + "-from").value = isFinite(from) ? from : "";
        byId(name + "-to").value = isFinite(to) ? to : "";
      }
    }
    const changed = () => { arrange(); keep(); };
    search.addEventListener("input", () => { state.search = search.value; changed(); });
    for (const id of ["family", "kind", "goes", "sort"]) byId(id).addEventListener("change", (event) => { state[id] = event.target.value; changed(); });
    byId("down").addEventListener("change", (event) => { state.down = event.target.checked; changed(); });
    for (const name of MEASURES) {
      for (const end of ["-from", "-to"]) {
        byId(name + end).addEventListener("input", () => {
          const [from, to] = [byId(name + "-from").value, byId(name + "-to").value];
          state[name] = from || to ? from + "-" + to : "";
          changed();
        });
      }
    }
    function clear() {
      state.search = state.family = state.kind = state.goes = "";
      for (const name of MEASURES) state[name] = "";
      showFilters();
      changed();
    }
    byId("clear").addEventListener("click", clear);
    byId("clear-all").addEventListener("click", () => { clear(); search.focus(); });
    byId("clear-search").addEventListener("click", () => { state.search = ""; showFilters(); changed(); search.focus(); });

    // -- Keyboard in the grid: one picture at a time can be reached by Tab

    function rove() {
      for (const card of cards) card.link.tabIndex = card.chosen.tabIndex = card === active ? 0 : -1;
    }
    grid.addEventListener("focusin", (event) => {
      const card = byItem.get(event.target.closest("li"));
      if (card && card !== active) { active = card; rove(); }
    });
    grid.addEventListener("keydown", (event) => {
      if (!event.target.closest("a") || event.ctrlKey || event.metaKey || event.altKey) return;
      const k = shown.indexOf(active);
      const top = shown[0].item.offsetTop;
      let columns = shown.findIndex((card) => card.item.offsetTop !== top);
      if (columns < 0) columns = shown.length;
      const to = { ArrowLeft: k - 1, ArrowRight: k + 1, ArrowUp: k - columns, ArrowDown: k + columns, Home: 0, End: shown.length - 1 }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      const card = shown[to];
      if (!card) return;
      active = card;
      rove();
      card.link.focus();
    });
    addEventListener("keydown", (event) => {
      const writes = event.target.matches && event.target.matches("input:not([type=checkbox]):not([type=radio]):not([type=color]), textarea, select");
      if (event.key === "/" && !writes && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.preventDefault();
        search.focus();
        search.select();
      } else if ((event.ctrlKey || event.metaKey) && !event.shiftKey && event.key.toLowerCase() === "z" && !writes) {
        event.preventDefault();
        undo();
      }
    });

    // -- Choosing what to compare

    function choose(name, on) {
      state.pick = state.pick.filter((other) => other !== name);
      if (on && state.pick.length >= MOST_COMPARED) tell(MOST_COMPARED + " can be compared at most: take one away first.");
      else if (on) state.pick.push(name);
      showTray();
      keep();
    }
    function showTray() {
      for (const card of cards) card.chosen.checked = state.pick.includes(card.variety.name);
      byId("tray").hidden = state.pick.length === 0;
      byId("picked").textContent = state.pick.map((name) => byName.get(name).title).join(" · ");
      byId("compare").textContent = state.pick.length > 1 ? "Compare these " + state.pick.length : "Look at this one large";
    }
    byId("uncompare").addEventListener("click", () => { state.pick = []; showTray(); keep(); });

    // On a small screen what is hung stays near the pictures: wishes are folded
    // away until there are any.
    const wide = matchMedia("(min-width: 44.01rem)");
    const unfold = () => { byId("wishes").open = wide.matches || filtered(); };
    wide.addEventListener("change", unfold);
    function show() {
      readAddress();
      unfold();
      undone.length = 0;
      rebuildRow();
      showColours();
      showFilters();
      showTray();
      arrange();
      repaint();
      keep();
    }
    addEventListener("hashchange", () => { if (location.hash !== written) show(); });
    show();
  }

  // ---- Side by side -----------------------------------------------------

  function comparePage() {
    const sides = byId("sides");
    all.large = {};
    const asked = new Map();
    // Data of one variety: a script, since pages from disk can read no files.
    const large = (name) => {
      if (!asked.has(name)) {
        asked.set(name, new Promise((done, failed) => {
          const script = make("script", { src: "data/" + name + ".js" });
          script.addEventListener("load", () => done(all.large[name]));
          script.addEventListener("error", () => failed(new Error(name)));
          document.head.append(script);
        }));
      }
      return asked.get(name);
    };
    let figures = [];

    function rebuild() {
      figures = state.pick.map((name) => {
        const variety = byName.get(name);
        const drawn = picture(all.large_px);
        const box = make("div", { class: "window", tabindex: 0, role: "region", "aria-label": variety.title + ", picture" });
        const way = make("p", { class: "way" });
        const note = make("p", { class: "quiet", text: "" });
        const key = make("img", { class: "key", loading: "lazy", src: "keys/" + name + ".svg", alt: "Key of the working diagram of " + variety.title });
        const own = make("input", { type: "range", min: 1, max: 4, step: 0.25, value: state.zoom, "aria-label": "Size of " + variety.title });
        const keyBox = make("div", { class: "key-box", hidden: true, tabindex: 0, role: "region", "aria-label": "Key of the working diagram of " + variety.title }, key);
        const ownLabel = make("label", { class: "own quiet" }, "Size ", own);
        const away = make("button", { type: "button", "data-remove": name, text: "Take away", "aria-label": "Take away " + variety.title });
        const link = make("a", { href: variety.page, text: variety.title });
        const figure = make("article", { "data-name": name, "aria-label": variety.title }, make("h2", {}, link), box, note, way, keyBox, ownLabel, away);
        away.addEventListener("click", () => {
          state.pick = state.pick.filter((other) => other !== name);
          rebuild();
          keep();
          byId("add").focus();
        });
        const side = { variety, drawn, box, way, note, keyBox, own, ownLabel, figure, data: null };
        own.addEventListener("input", () => size(side, Number(own.value)));
        box.addEventListener("scroll", () => follow(side));
        large(name).then((data) => {
          side.data = data;
          drawn.stencil = read(data.picture);
          repaint();
        }, () => { note.textContent = "The picture of " + variety.title + " is not in the folder of this gallery."; });
        return side;
      });
      sides.replaceChildren(...figures.map((side) => side.figure));
      sides.dataset.count = figures.length;
      byId("none").hidden = figures.length > 0;
      byId("facts-section").hidden = figures.length === 0;
      const many_ = figures.length === 1 ? "One ground is shown; add another to compare." : figures.length + " are shown side by side.";
      byId("shown").textContent = figures.length ? many_ : "";
      byId("add").disabled = figures.length >= MOST_COMPARED;
      for (const option of byId("add").querySelectorAll("option")) option.disabled = state.pick.includes(option.value);
      places();
      view();
      facts();
      recipe();
    }

    // Where the pairs hang that can be followed: one that hangs at an edge soon
    // leaves the picture, so the middle is named.
    function places() {
      const across = figures.map((side) => Math.floor(side.variety.pairs_per_cm * all.large_mm / 10));
      const least = Math.min(24, ...across);
      for (const option of byId("follow").options) {
        const k = Number(option.value);
        if (k) option.textContent = "pair " + k + (k === Math.ceil(least / 2) ? ", in the middle" : k > least ? ", beyond the right edge" : "");
      }
    }

    // What each window shows.
    function view() {
      for (const side of figures) {
        const { variety, box, note } = side;
        if (state.view === "threads") {
          box.replaceChildren(side.drawn.canvas);
        } else {
          const [folder, what] = state.view === "pairs" ? ["diagrams", "Working diagram"] : ["prickings", "Pricking"];
          box.replaceChildren(make("img", { src: folder + "/" + variety.name + ".svg", width: all.large_px, height: all.large_px, alt: what + " of " + variety.title + ". " + variety.travel }));
        }
        side.keyBox.hidden = state.view !== "pairs";
        note.textContent = decimal(all.large_mm) + " by " + decimal(all.large_mm) + " mm of lace";
        size(side, state.lock ? state.zoom : Number(side.own.value));
        side.ownLabel.hidden = state.lock;
      }
      byId("zoom-label").hidden = !state.lock;
      repaint();
    }

    function size(side, zoom) {
      side.own.value = zoom;
      for (const shown of side.box.children) shown.style.width = 100 * zoom + "%";
    }

    // Windows at one scale show the same place.
    let following = false;
    function follow(from) {
      if (!state.lock || following) return;
      following = true;
      for (const side of figures) {
        if (side !== from) side.box.scrollTo({ left: from.box.scrollLeft, top: from.box.scrollTop, behavior: "instant" });
      }
      requestAnimationFrame(() => { following = false; });
    }

    function repaint() {
      const colours = threadColours(2 * all.pairs, state.follow);
      for (const side of figures) {
        const { variety, way, data } = side;
        side.drawn.paint(colours);
        const told = state.follow && data ? data.ways[state.follow - 1] || variety.travel : variety.travel;
        way.textContent = told;
        const words = state.follow ? "pair " + state.follow + " in its colour, all others grey" : hung();
        side.drawn.canvas.setAttribute("aria-label", variety.title + ", " + words + ". " + told);
      }
      byId("hung").textContent = hung();
    }

    // The facts, a row for each, those that differ marked with a word.
    function facts() {
      const table = byId("facts");
      const names = figures.length ? figures[0].variety.facts.map(([name]) => name) : [];
      const head = make("tr", {}, make("th", { scope: "col", text: "Fact" }), make("th", { scope: "col", text: "Alike?" }), ...figures.map((side) => make("th", { scope: "col", text: side.variety.title })));
      const rows = names.map((name, k) => {
        const values = figures.map((side) => side.variety.facts[k][1]);
        const differs = values.some((value) => value !== values[0]);
        return make("tr", { "data-differs": String(differs), hidden: state.differ && !differs },
          make("th", { scope: "row", text: name }), make("td", { class: "mark", text: figures.length < 2 ? "" : differs ? "≠ differs" : "= alike" }), ...values.map((text) => make("td", { text: text || "–" })));
      });
      table.replaceChildren(make("thead", {}, head), make("tbody", {}, ...rows));
    }

    // What is shown as the recipe of a class. Strings are written as in JSON,
    // which TOML reads.
    function recipe() {
      const text = JSON.stringify;
      const colours = state.colours.slice(0, Math.max(...state.order) + 1).map((rgb, c) => "  { name = " + text(colourName(c)) + ", rgb = " + text(rgb) + " },\n");
      const grounds = figures.map((side) => "\n[[ground]]\nname = " + text(side.variety.name) + "\narea = \"40x60\"\nnotes = \"\"\n");
      const written = "format = \"pairwise-recipe/1\"\ntitle = \"My class\"\npaper = \"A4\"\npin-spacing = " + all.pin_spacing_mm +
        "\ncolours = [\n" + colours.join("") + "]\narrangement = " + text(writeOrder(state.order, " ")) + "\n" + grounds.join("");
      byId("recipe").textContent = written;
    }
    byId("save").addEventListener("click", () => {
      const file = URL.createObjectURL(new Blob([byId("recipe").textContent], { type: "text/plain" }));
      make("a", { href: file, download: "my-class.toml" }).click();
      setTimeout(() => URL.revokeObjectURL(file), 60000);
    });

    const families = new Map();
    for (const v of all.varieties) {
      if (!families.has(v.family)) families.set(v.family, make("optgroup", { label: v.family_title }));
      families.get(v.family).append(make("option", { value: v.name, text: v.title }));
    }
    byId("add").append(...families.values());
    byId("add").addEventListener("change", (event) => {
      const name = event.target.value;
      event.target.value = "";
      if (!name || state.pick.includes(name) || state.pick.length >= MOST_COMPARED) return;
      state.pick.push(name);
      rebuild();
      keep();
    });
    for (const radio of document.querySelectorAll("input[name=view]")) {
      radio.addEventListener("change", () => { state.view = radio.value; view(); keep(); });
    }
    byId("zoom").addEventListener("input", (event) => {
      state.zoom = Number(event.target.value);
      for (const side of figures) size(side, state.zoom);
      keep();
    });
    byId("lock").addEventListener("change", (event) => { state.lock = event.target.checked; view(); keep(); });
    byId("differ").addEventListener("change", (event) => { state.differ = event.target.checked; facts(); keep(); });
    byId("follow").append(make("option", { value: 0, text: "no pair: all colours" }));
    for (let k = 1; k <= 24; k++) byId("follow").append(make("option", { value: k }));
    byId("follow").addEventListener("change", (event) => {
      state.follow = Number(event.target.value);
      if (state.follow && state.view !== "threads") {
        state.view = "threads";
        byId("view-threads").checked = true;
        view();
      }
      repaint();
      keep();
    });
    seenChoices(byId("seen"), () => { repaint(); keep(); });

    function show() {
      readAddress();
      byId("view-" + state.view).checked = true;
      byId("zoom").value = state.zoom;
      byId("lock").checked = state.lock;
      byId("differ").checked = state.differ;
      byId("follow").value = state.follow;
      byId("seen").value = state.seen;
      rebuild();
      keep();
    }
    addEventListener("hashchange", () => { if (location.hash !== written) show(); });
    show();
  }

  // For whoever wants to measure or look closer.
  Object.assign(all, { read, paint, sees, inflate });
  byId("needs-script").hidden = false;
  if (byId("grid")) explorePage();
  if (byId("sides")) comparePage();
})();
