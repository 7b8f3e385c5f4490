// The keyboard: in the grid of explore.html one card at a time can be reached by
// Tab and arrow keys lead to the others; / searches, Ctrl+Z undoes.

// Returns a function to call with the cards that are shown.
function roveGrid(cards) {
  const grid = byId("grid");
  const byItem = new Map(cards.map((card) => [card.item, card]));
  let shown = cards, active = null;
  function rove() {
    for (const card of cards) card.link.tabIndex = card.tick.tabIndex = card === active ? 0 : -1;
  }
  grid.addEventListener("focusin", (event) => {
    const card = byItem.get(event.target.closest("li"));
    if (card && card !== active) { active = card; rove(); }
  });
  grid.addEventListener("keydown", (event) => {
    if (!event.target.closest("a") || hasModifier(event)) return;
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
  return (now) => {
    shown = now;
    if (!shown.includes(active)) active = shown[0] || null;
    rove();
  };
}

function followShortcuts(undo) {
  addEventListener("keydown", (event) => {
    if (isWriting(event.target)) return;
    if (event.key === "/" && !hasModifier(event) && byId("search")) {
      event.preventDefault();
      byId("search").focus();
      byId("search").select();
    } else if ((event.ctrlKey || event.metaKey) && !event.shiftKey && event.key.toLowerCase() === "z") {
      event.preventDefault();
      undo();
    }
  });
}
