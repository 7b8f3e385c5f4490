// The cards of explore.html: a picture of every variety, painted when it comes
// into view.

function makeCard(variety, k) {
  const picture = makePicture(all.small_px);
  picture.canvas.id = "picture-" + k;
  const name = make("span", { text: variety.title, id: "title-" + k });
  const link = make("a", { href: variety.page, "data-keeps-at": variety.page, tabindex: -1, "aria-labelledby": name.id, "aria-describedby": picture.canvas.id }, picture.canvas, name);
  const line = make("p", { class: "quiet" });
  const shows = make("p", { class: "quiet shows" });
  const tick = make("input", { type: "checkbox", tabindex: -1, "data-compare": variety.name });
  const label = make("label", { class: "choose" }, tick, "compare", make("span", { class: "unseen", text: " " + variety.title }));
  const item = make("li", { "data-name": variety.name }, link, shows, line, label);
  return { variety, picture, item, link, line, shows, tick, place: k, near: false, stale: true, window: 0 };
}

// The pictures of a variety by the lace they show: packed ones are unpacked when
// they are first painted, since most are never scrolled to.
const pictures = { packed: new Map(), bytes: new Map(), unpacked: new Map(), asked: new Map() };
all.wider = {};
const keyOf = (variety, mm) => variety.name + " " + mm;

// Gets the pictures that show so much lace: those of the start are there at once,
// others are loaded as a script, since pages opened from disk cannot read files.
function picturesOf(mm) {
  if (!pictures.asked.has(mm)) {
    pictures.asked.set(mm, new Promise((done, failed) => {
      const script = make("script", { src: "data/window-" + decimal(mm) + ".js" });
      script.addEventListener("load", () => done(all.wider[decimal(mm)]));
      script.addEventListener("error", () => failed(new Error(mm)));
      document.head.append(script);
    }));
  }
  return pictures.asked.get(mm);
}

function packedPicture(variety, mm) {
  const key = keyOf(variety, mm);
  if (!pictures.packed.has(key)) {
    const letters = mm === variety.small_mm ? Promise.resolve(all.pictures) : picturesOf(mm);
    const bytes = letters.then((of) => inflate(of[variety.name]));
    pictures.packed.set(key, bytes);
    bytes.then((bytes) => pictures.bytes.set(key, bytes), () => {});
  }
  return pictures.packed.get(key);
}

// The picture in the window of a card, if it is there.
function stencilOf({ variety, window }) {
  const key = keyOf(variety, window);
  if (!pictures.unpacked.has(key) && pictures.bytes.has(key)) pictures.unpacked.set(key, unpack(pictures.bytes.get(key)));
  return pictures.unpacked.get(key) || null;
}

// Paints a card, if its picture is there. Returns whether it is.
function paintCard(card, hang) {
  const stencil = stencilOf(card);
  card.picture.stencil = stencil || card.picture.stencil;
  const painted = card.picture.paint(hang);
  card.stale = !painted || stencil === null;
  return stencil !== null;
}

// Paints the cards that can be seen at once, the rest when they come into view.
function paintCards(cards) {
  const hang = () => paints(state.arrangement, 0);
  // Paints a card when the picture for its window has come.
  function come(card) {
    const mm = card.window;
    return packedPicture(card.variety, mm).then(() => {
      if (card.window === mm && card.near) paintCard(card, hang());
    }, () => { if (card.window === mm) card.shows.textContent = "The picture is not in the folder of this gallery."; });
  }
  function repaint() {
    const begun = performance.now();
    const now = hang(), words = hungInWords();
    const coming = cards.map((card) => {
      const { mm, words: shows } = windowOf(card.variety, state.arrangement);
      card.stale = true;
      card.window = mm;
      card.shows.textContent = shows;
      card.picture.canvas.setAttribute("aria-label", card.variety.title + ", " + words + ". " + card.variety.travel);
      const there = card.near && card.item.isConnected && paintCard(card, now);
      return there ? null : come(card);
    });
    all.come = Promise.all(coming);
    all.lastRepaint = performance.now() - begun;
  }
  const byItem = new Map(cards.map((card) => [card.item, card]));
  const watch = new IntersectionObserver((entries) => {
    const now = hang();
    for (const entry of entries) {
      const card = byItem.get(entry.target);
      card.near = entry.isIntersecting;
      if (card.near && card.stale && card.window) paintCard(card, now);
    }
  }, { rootMargin: "400px" });
  for (const card of cards) watch.observe(card.item);
  // Paints all pictures, also those that are not in view, and tells how long it
  // took; the first time it includes unpacking.
  all.paintAll = () => {
    const begun = performance.now();
    const now = hang();
    for (const card of cards) paintCard(card, now);
    return performance.now() - begun;
  };
  addEventListener("beforeprint", all.paintAll);
  return repaint;
}
