// The cards of explore.html: a picture of every variety, painted when it comes
// into view.

function makeCard(variety, k) {
  const picture = makePicture(all.small_px);
  picture.canvas.id = "picture-" + k;
  const name = make("span", { text: variety.title, id: "title-" + k });
  const link = make("a", { href: variety.page, tabindex: -1, "aria-labelledby": name.id, "aria-describedby": picture.canvas.id }, picture.canvas, name);
  const line = make("p", { class: "quiet" });
  const tick = make("input", { type: "checkbox", tabindex: -1, "data-compare": variety.name });
  const label = make("label", { class: "choose" }, tick, "compare", make("span", { class: "unseen", text: " " + variety.title }));
  const item = make("li", { "data-name": variety.name }, link, line, label);
  return { variety, picture, item, link, line, tick, place: k, packed: null, near: false, stale: true };
}

function paintCard(card, colours) {
  // Unpacked when it is first painted: most pictures are never scrolled to.
  if (!card.picture.stencil && card.packed) card.picture.stencil = unpack(card.packed);
  card.stale = !card.picture.paint(colours);
}

// Paints the cards that can be seen at once, the rest when they come into view.
function paintCards(cards) {
  const colours = () => threadColours(0);
  function repaint() {
    const begun = performance.now();
    const now = colours(), words = hungInWords();
    for (const card of cards) {
      card.stale = true;
      if (card.near && card.item.isConnected) paintCard(card, now);
      card.picture.canvas.setAttribute("aria-label", card.variety.title + ", " + words + ". " + card.variety.travel);
    }
    all.lastRepaint = performance.now() - begun;
  }
  const byItem = new Map(cards.map((card) => [card.item, card]));
  const watch = new IntersectionObserver((entries) => {
    const now = colours();
    for (const entry of entries) {
      const card = byItem.get(entry.target);
      card.near = entry.isIntersecting;
      if (card.near && card.stale) paintCard(card, now);
    }
  }, { rootMargin: "400px" });
  for (const card of cards) watch.observe(card.item);
  // Inflating takes time; paint what is in view when it is done.
  all.inflated = Promise.all(cards.map(async (card) => {
    card.packed = await inflate(all.pictures[card.variety.name]);
    if (card.near) paintCard(card, colours());
  }));
  // Times the painting of all pictures; the first time it includes unpacking.
  all.paintAll = () => {
    const begun = performance.now();
    const now = colours();
    for (const card of cards) paintCard(card, now);
    return performance.now() - begun;
  };
  addEventListener("beforeprint", all.paintAll);
  return repaint;
}
