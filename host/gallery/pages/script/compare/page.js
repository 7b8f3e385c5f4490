// compare.html as a whole.

function comparePage() {
  let sides = [];
  const scrolled = scrollTogether(() => sides);

  function add(name) {
    const side = makeSide(name);
    side.box.addEventListener("scroll", () => scrolled(side));
    side.away.addEventListener("click", () => {
      state.pick = state.pick.filter((other) => other !== name);
      rebuild();
      keepInAddress();
      byId("add").focus();
    });
    load(name).then(({ ways, stencil }) => {
      side.ways = ways;
      side.picture.stencil = stencil;
      repaint();
    }, () => { side.note.textContent = "The picture of " + side.variety.title + " is not in the folder of this gallery."; });
    return side;
  }
  function rebuild() {
    sides = state.pick.map(add);
    const n = sides.length;
    byId("sides").replaceChildren(...sides.map((side) => side.figure));
    byId("sides").dataset.count = n;
    byId("none").hidden = n > 0;
    byId("facts-section").hidden = n === 0;
    byId("shown").textContent = n === 0 ? "" : n === 1 ? "One ground is shown; add another to compare." : n + " are shown side by side.";
    byId("add").disabled = n >= MOST_COMPARED;
    for (const option of byId("add").querySelectorAll("option")) option.disabled = state.pick.includes(option.value);
    namePairs(sides);
    view();
    showFacts(sides);
    byId("recipe").textContent = writeRecipe(sides);
  }
  function view() {
    for (const side of sides) showView(side);
    byId("zoom-label").hidden = !state.lock;
    repaint();
  }
  function repaint() {
    for (const side of sides) paintSide(side);
    byId("hung").textContent = state.class ? "each hung as in the class (" + wornInWords(sides) + ")" : hungInWords();
  }
  listVarieties((name) => { state.pick.push(name); rebuild(); keepInAddress(); });
  followView({ sides: () => sides, view, repaint });
  byId("save").addEventListener("click", saveRecipe);
  followAddress(() => {
    readAddress();
    showUnread();
    showChosenView();
    rebuild();
    keepInAddress();
  });
}

// The colours that hang on any of the sides.
function wornInWords(sides) {
  const worn = new Set(sides.flatMap((side) => arrangementOf(side.variety)));
  return [...worn].sort((a, b) => a - b).map((c) => letter(c) + " " + colourName(c)).join(", ");
}

// The pairs that can be followed. A pair at an edge soon leaves the picture, so
// the list marks the middle pair.
function namePairs(sides) {
  const across = sides.map((side) => Math.floor(side.variety.pairs_per_cm * side.variety.large_mm / 10));
  const least = Math.min(MOST_FOLLOWED, ...across);
  for (const option of byId("follow").options) {
    const k = Number(option.value);
    if (k) option.textContent = "pair " + k + (k === Math.ceil(least / 2) ? ", in the middle" : k > least ? ", beyond the right edge" : "");
  }
}

// The list of varieties that can be added.
function listVarieties(add) {
  const families = new Map();
  for (const v of all.varieties) {
    if (!families.has(v.family)) families.set(v.family, make("optgroup", { label: v.family_title }));
    families.get(v.family).append(make("option", { value: v.name, text: v.title }));
  }
  byId("add").append(...families.values());
  byId("add").addEventListener("change", (event) => {
    const name = event.target.value;
    event.target.value = "";
    if (name && !state.pick.includes(name) && state.pick.length < MOST_COMPARED) add(name);
  });
}

// Handles the settings above the windows.
function followView({ sides, view, repaint }) {
  for (const radio of document.querySelectorAll("input[name=view]")) {
    radio.addEventListener("change", () => { state.view = radio.value; view(); keepInAddress(); });
  }
  byId("zoom").addEventListener("input", (event) => {
    state.zoom = Number(event.target.value);
    for (const side of sides()) resize(side, state.zoom);
    keepInAddress();
  });
  byId("lock").addEventListener("change", (event) => { state.lock = event.target.checked; view(); keepInAddress(); });
  byId("differ").addEventListener("change", (event) => { state.differ = event.target.checked; showFacts(sides()); keepInAddress(); });
  byId("follow").append(make("option", { value: 0, text: "no pair: all colours" }));
  for (let k = 1; k <= MOST_FOLLOWED; k++) byId("follow").append(make("option", { value: k }));
  byId("follow").addEventListener("change", (event) => {
    state.follow = Number(event.target.value);
    // Only threads have colours.
    if (state.follow && state.view !== "threads") {
      state.view = "threads";
      byId("view-threads").checked = true;
      view();
    }
    repaint();
    keepInAddress();
  });
  listSights(byId("seen"), () => { repaint(); keepInAddress(); });
}

function showChosenView() {
  byId("view-" + state.view).checked = true;
  byId("zoom").value = state.zoom;
  byId("lock").checked = state.lock;
  byId("differ").checked = state.differ;
  byId("follow").value = state.follow;
  byId("seen").value = state.seen;
}
