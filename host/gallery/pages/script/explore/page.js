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

// The slider for how much lace is shown: at its left end as much as each variety
// needs, then so many mm of all.
function chooseWindow(repaint) {
  const slider = byId("window");
  const at = () => all.windows[slider.value - 1] || 0;
  slider.max = all.windows.length;
  function show() {
    slider.value = all.windows.indexOf(state.window) + 1;
    const words = state.window ? decimal(state.window) + " by " + decimal(state.window) + " mm of each" : "a whole repeat of each";
    byId("window-words").textContent = words;
    slider.setAttribute("aria-valuetext", words);
  }
  slider.addEventListener("input", () => { state.window = at(); show(); repaint(); keepInAddress(); });
  return show;
}

function explorePage() {
  const cards = all.varieties.map(makeCard);
  const repaint = paintCards(cards);
  const found = findVarieties(cards, roveGrid(cards));
  const hanging = hangColours(() => { repaint(); found.changed(); });
  const showWindow = chooseWindow(repaint);
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
    showUnread();
    hanging.begin();
    showWindow();
    showChosen();
    found.show();
    repaint();
    found.changed();
    keepInAddress();
  });
}
