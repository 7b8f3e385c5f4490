// The varieties on compare.html, side by side: a window on each.

function makeSide(name) {
  const variety = byName.get(name), keyName = "Key of the working diagram of " + variety.title;
  const side = {
    variety,
    picture: makePicture(all.large_px),
    box: make("div", { class: "window", tabindex: 0, role: "region", "aria-label": variety.title + ", picture" }),
    way: make("p", { class: "way" }),
    note: make("p", { class: "quiet", text: "" }),
    keyBox: make("div", { class: "key-box", hidden: true, tabindex: 0, role: "region", "aria-label": keyName },
      make("img", { class: "key", loading: "lazy", src: "keys/" + name + ".svg", alt: keyName })),
    own: make("input", { type: "range", min: 1, max: 4, step: 0.25, value: state.zoom, "aria-label": "Size of " + variety.title }),
    away: make("button", { type: "button", "data-remove": name, text: "Take away", "aria-label": "Take away " + variety.title }),
    ways: [],
  };
  side.ownLabel = make("label", { class: "own quiet" }, "Size ", side.own);
  const heading = make("h2", {}, make("a", { href: variety.page, "data-keeps-at": variety.page, text: variety.title }));
  side.figure = make("article", { "data-name": name, "aria-label": variety.title }, heading, side.box, side.note, side.way, side.keyBox, side.ownLabel, side.away);
  side.own.addEventListener("input", () => resize(side, Number(side.own.value)));
  return side;
}

function resize(side, zoom) {
  side.own.value = zoom;
  for (const shown of side.box.children) shown.style.width = 100 * zoom + "%";
}

// Shows threads, working diagram or pricking in the window of a side.
function showView(side) {
  const { variety, box, note } = side;
  if (state.view === "threads") {
    box.replaceChildren(side.picture.canvas);
  } else {
    const [folder, what] = state.view === "pairs" ? ["diagrams", "Working diagram"] : ["prickings", "Pricking"];
    box.replaceChildren(make("img", { src: folder + "/" + variety.name + ".svg", width: all.large_px, height: all.large_px, alt: what + " of " + variety.title + ". " + variety.travel }));
  }
  side.keyBox.hidden = state.view !== "pairs";
  const shows = largeInWords(variety, arrangementOf(variety));
  const mm = decimal(state.view === "pairs" ? variety.diagram_mm : variety.large_mm);
  note.textContent = mm + " by " + mm + " mm of lace" + (shows && state.view !== "pairs" ? "; " + shows : "");
  resize(side, state.lock ? state.zoom : Number(side.own.value));
  side.ownLabel.hidden = state.lock;
}

function paintSide(side) {
  const { variety, way, ways, picture } = side;
  const threads = arrangementOf(variety);
  picture.paint(paints(threads, state.follow));
  const where = state.follow && ways[state.follow - 1] || variety.travel;
  const words = state.follow ? "pair " + state.follow + " in its colour, all others grey" : hungInWords(threads);
  way.textContent = (state.class ? "Hung " + writeArrangement(threads, " ") + ". " : "") + where;
  picture.canvas.setAttribute("aria-label", variety.title + ", " + words + ". " + where);
}

// Windows at one scale show the same place: returns the scroll handler.
function scrollTogether(sides) {
  let following = false;
  return (from) => {
    if (!state.lock || following) return;
    following = true;
    for (const side of sides()) {
      if (side !== from) side.box.scrollTo({ left: from.box.scrollLeft, top: from.box.scrollTop, behavior: "instant" });
    }
    requestAnimationFrame(() => { following = false; });
  };
}
