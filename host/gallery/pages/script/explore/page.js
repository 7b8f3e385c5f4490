// explore.html as a whole, and choosing what to compare.

function chooseToCompare(cards, announce) {
  function show() {
    for (const card of cards) card.tick.checked = state.pick.includes(card.variety.name);
    byId("tray").hidden = state.pick.length === 0;
    byId("picked").textContent = state.pick.map((name) => byName.get(name).title).join(" · ");
    byId("compare").textContent = state.pick.length > 1 ? "Compare these " + state.pick.length : "See this one large";
  }
  function choose(name, on) {
    state.pick = state.pick.filter((other) => other !== name);
    if (on && state.pick.length >= MOST_COMPARED) announce("You can compare " + MOST_COMPARED + " at most. Take one away first.");
    else if (on) state.pick.push(name);
    show();
    keepInAddress();
  }
  for (const card of cards) card.tick.addEventListener("change", () => choose(card.variety.name, card.tick.checked));
  byId("uncompare").addEventListener("click", () => { state.pick = []; show(); keepInAddress(); });
  return show;
}

function explorePage() {
  const cards = all.varieties.map(makeCard);
  const repaint = paintCards(cards);
  const found = findVarieties(cards, roveGrid(cards));
  const hanging = hangColours(() => { repaint(); found.changed(); });
  const showChosen = chooseToCompare(cards, hanging.announce);
  followShortcuts(hanging.undo);
  // On a small screen the colours stay near the pictures: filters are folded
  // away until there are any.
  const wide = matchMedia("(min-width: 44.01rem)");
  const unfold = () => { byId("wishes").open = wide.matches || isFiltered(); };
  wide.addEventListener("change", unfold);
  followAddress(() => {
    readAddress();
    unfold();
    hanging.begin();
    showChosen();
    found.show();
    repaint();
    found.changed();
    keepInAddress();
  });
}
