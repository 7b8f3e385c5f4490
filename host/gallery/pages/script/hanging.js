// Hanging colours, on explore.html and on the pages of grounds: the dyes, the
// pairs, ready-made arrangements, and undo. `repaint` repaints all pictures.

function hangColours(repaint) {
  const undone = [];
  const hanging = { brush: 0, undone, announce: (text) => { byId("said").textContent = text; } };
  const shownAnew = () => { show(); repaint(); keepInAddress(); };
  hanging.shownAnew = shownAnew;
  // Changes the colours or the arrangement so that it can be undone. Returns
  // whether anything changed.
  hanging.change = (how) => {
    const before = { arrangement: state.arrangement.slice(), colours: state.colours.slice(), class: state.class };
    how();
    const rehung = writeArrangement(before.arrangement, "") !== writeArrangement(state.arrangement, "");
    if (!rehung && before.colours.join() === state.colours.join()) return false;
    // What is hung anew is no longer as the class has it.
    if (rehung) state.class = false;
    undone.push(before);
    if (undone.length > 200) undone.shift();
    shownAnew();
    return true;
  };
  function undo() {
    const before = undone.pop();
    if (!before) return;
    Object.assign(state, before);
    shownAnew();
    hanging.announce("Undone: " + hungInWords());
  }
  const dyes = makeDyes(hanging), row = makeRow(hanging), ready = makeReady(hanging);
  function show() {
    dyes.show();
    row.show();
    ready.show();
    showLength();
    byId("threads").checked = state.threads;
    byId("seen").value = state.seen;
    byId("undo").disabled = undone.length === 0;
    byId("hung").textContent = hungInWords();
    showWorn();
  }
  for (let n = 1; n <= all.most_pairs; n++) byId("length").append(make("option", { value: n, text: many(n, "pair") }));
  // An address may ask for more pairs than the list has.
  function showLength() {
    const n = state.arrangement.length / 2;
    if (n > byId("length").options.length) byId("length").append(make("option", { value: n, text: many(n, "pair") }));
    byId("length").value = n;
  }
  byId("length").addEventListener("change", (event) => {
    const length = 2 * Number(event.target.value);
    hanging.change(() => { state.arrangement = Array.from({ length }, (_, k) => state.arrangement[k % state.arrangement.length]); });
  });
  byId("threads").addEventListener("change", (event) => {
    state.threads = event.target.checked;
    show();
    keepInAddress();
  });
  byId("undo").addEventListener("click", undo);
  listSights(byId("seen"), shownAnew);
  foldOnSmallScreens();
  const begin = () => {
    undone.length = 0;
    row.rebuild();
    show();
  };
  return { begin, undo, announce: hanging.announce };
}

// What hangs, in letters and colours: for print, where the controls are left out.
function showWorn() {
  const seen = state.colours.map((hex) => "rgb(" + sees(parts(hex), state.seen).join(",") + ")");
  const sight = all.sights.find((s) => s.id === state.seen);
  const dyes = [...new Set(state.arrangement)].sort((a, b) => a - b).map((c) =>
    make("span", { class: "dye" }, make("span", { class: "swatch", style: "background:" + seen[c] }), " " + letter(c) + " " + colourName(c)));
  byId("worn").replaceChildren("Hang on " + (state.class ? "as in the class" : writeArrangement(state.arrangement, " ") + ", repeating") + (sight ? ", colours as seen " + sight.words : "") + ". ", ...dyes);
}

// On a small screen the panel stays at the lower edge, with the pictures in view
// above it: what is needed less often is folded away, and the page keeps clear of
// the panel.
function foldOnSmallScreens() {
  const wide = matchMedia("(min-width: 44.01rem)");
  const unfold = () => { byId("more").open = wide.matches; };
  wide.addEventListener("change", unfold);
  unfold();
  const panel = document.querySelector(".docked");
  const keepClear = () => {
    const docked = getComputedStyle(panel).position === "fixed";
    document.documentElement.style.setProperty("--dock", (docked ? panel.offsetHeight : 0) + "px");
  };
  new ResizeObserver(keepClear).observe(panel);
  wide.addEventListener("change", keepClear);
}

// A brush (radio button) and a colour well for each letter.
function makeDyes(hanging) {
  const dyes = all.colours.map((colour, c) => {
    const radio = make("input", { type: "radio", name: "brush", value: c, id: "brush-" + colour.letter, checked: c === hanging.brush });
    const well = make("input", { type: "color", id: "colour-" + colour.letter, "aria-label": "Colour " + colour.letter });
    radio.addEventListener("change", () => { hanging.brush = c; });
    // All changes in one colour dialogue are one step to undo.
    let open = false;
    const set = () => {
      hanging.brush = c;
      const dye = () => { state.colours[c] = well.value; };
      if (!open) open = hanging.change(dye);
      else { dye(); hanging.shownAnew(); }
    };
    well.addEventListener("input", set);
    well.addEventListener("change", () => { set(); open = false; });
    byId("dyes").append(make("span", { class: "dye" }, make("label", {}, radio, colour.letter), well));
    return { radio, well };
  });
  const show = () => dyes.forEach(({ radio, well }, c) => {
    well.value = state.colours[c];
    well.setAttribute("aria-label", "Colour " + letter(c) + ", " + colourName(c));
    radio.checked = c === hanging.brush;
  });
  return { show };
}

// The pairs, left to right: a button for each pair, or for each of its threads.
function makeRow(hanging) {
  const row = byId("pairs");
  let hangers = [];
  function rebuild() {
    const width = state.threads ? 1 : 2;
    row.replaceChildren();
    hangers = [];
    for (let k = 0; k < state.arrangement.length; k += 2) {
      const pair = make("span", { class: "pair" });
      for (let j = 0; j < 2; j += width) {
        const button = make("button", { type: "button", "data-thread": k + j, "data-pair": k / 2 + 1, tabindex: hangers.length ? -1 : 0 }, make("b"), make("i", { "aria-hidden": "true" }));
        hangers.push({ button, thread: k + j, width });
        pair.append(button);
      }
      row.append(pair);
    }
  }
  function show() {
    if (hangers.length * (state.threads ? 1 : 2) !== state.arrangement.length) rebuild();
    const seen = state.colours.map((hex) => "rgb(" + sees(parts(hex), state.seen).join(",") + ")");
    for (const hanger of hangers) showHanger(hanger, seen);
  }
  const hangerOf = (element) => {
    const button = element && element.closest("button[data-thread]");
    return button && row.contains(button) ? hangers.find((h) => h.button === button) : null;
  };
  const hang = (hanger, colour) => hanging.change(() => {
    state.arrangement = state.arrangement.map((c, k) => k >= hanger.thread && k < hanger.thread + hanger.width ? colour : c);
  });
  function rove(k, focus) {
    k = Math.min(Math.max(k, 0), hangers.length - 1);
    hangers.forEach((h, j) => { h.button.tabIndex = j === k ? 0 : -1; });
    if (focus) hangers[k].button.focus();
  }
  row.addEventListener("click", (event) => {
    const hanger = hangerOf(event.target);
    if (!hanger) return;
    rove(hangers.indexOf(hanger), false);
    hang(hanger, hanging.brush);
    hanging.announce(hanger.button.getAttribute("aria-label"));
  });
  row.addEventListener("keydown", (event) => {
    const hanger = hangerOf(event.target);
    if (!hanger || hasModifier(event)) return;
    const k = hangers.indexOf(hanger);
    const to = { ArrowLeft: k - 1, ArrowRight: k + 1, Home: 0, End: hangers.length - 1 }[event.key];
    const colour = event.key.length === 1 ? event.key.toUpperCase().charCodeAt(0) - 65 : -1;
    if (to !== undefined) rove(to, true);
    else if (colour >= 0 && colour < all.colours.length) hang(hanger, colour);
    else return;
    event.preventDefault();
  });
  return { rebuild, show };
}

function showHanger({ button, thread, width }, seen) {
  const own = [...new Set(state.arrangement.slice(thread, thread + width))];
  const letters = own.map(letter).join("/");
  const pair = "pair " + (1 + (thread >> 1));
  const which = state.threads ? ["left", "right"][thread % 2] + " thread of " + pair : pair;
  button.firstChild.textContent = letters;
  button.setAttribute("aria-label", which + ": " + letters + ", " + own.map(colourName).join(" and "));
  button.lastChild.style.background = own.length > 1 ? "linear-gradient(90deg," + seen[own[0]] + " 50%," + seen[own[1]] + " 50%)" : seen[own[0]];
}

// Arrangements that are one click away.
function makeReady(hanging) {
  for (const { name, arrangement } of all.ready) {
    const { threads } = readArrangement(arrangement);
    if (!threads) continue;
    const button = make("button", { type: "button", text: name, "data-arrangement": writeArrangement(threads, " ") });
    button.addEventListener("click", () => {
      hanging.change(() => { state.arrangement = threads.slice(); });
      hanging.announce(name + ": " + hungInWords());
    });
    byId("ready").append(button);
  }
  const show = () => {
    const now = writeArrangement(state.arrangement, " ");
    for (const button of byId("ready").children) button.setAttribute("aria-pressed", String(button.dataset.arrangement === now));
  };
  return { show };
}
