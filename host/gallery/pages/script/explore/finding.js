// Finding varieties: search, filters and sorting. `among` is called with the
// cards that are shown.

// The key of each measure in the data.
const MEASURE_KEYS = { pairs: "pairs", pins: "pins_per_cm2", moves: "moves_per_cm2", works: "works" };
const SORT_KEYS = {
  clearest: (v, card) => -clearnessOf(card), name: (v) => plain(v.title), pairs: (v) => v.pairs, density: (v) => v.pairs_per_cm, pins: (v) => v.pins_per_cm2,
  moves: (v) => v.moves_per_cm2, works: (v) => v.works, open: (v) => v.open,
};
// The text on a card for the measure it is sorted by.
const SORT_WORDS = {
  density: (v) => decimal(v.pairs_per_cm) + " pairs per cm", pins: (v) => decimal(v.pins_per_cm2) + " pins per cm²",
  moves: (v) => decimal(v.moves_per_cm2) + " moves per cm²", works: (v) => v.works + (v.works === 1 ? " stitch" : " different stitches"),
  open: (v) => Math.round(v.open) + " % open",
};
const GOES_WORDS = { travels: "colours travel", stays: "colours stay", both: "some travel, some stay" };

// In whole per cent, as captions say it.
const clearnessOf = (card) => card.seen ? Math.round(100 * card.seen.clearness) : 0;
// Whether what is shown depends on the pattern.
const asksForPattern = () => Boolean(state.pattern || state.clear || state.sort === "clearest");

const cardLine = (v, card) => (card.seen ? patternWords(card.seen) + "; " : "") + many(v.pairs, "pair") + ", " + many(v.pins, "pin") + "; " + GOES_WORDS[v.goes] + (SORT_WORDS[state.sort] ? "; " + SORT_WORDS[state.sort](v) : "");

// `2-4`, `2-`, `-4`, or nothing for any.
function readRange(text) {
  const [from, to] = (text || "-").split("-");
  return [from ? Number(from) : -Infinity, to ? Number(to) : Infinity];
}

// Whether a variety matches the search and filters.
function matches(card) {
  const v = card.variety;
  if (state.pattern && (!card.seen || !card.seen.kind.startsWith(state.pattern))) return false;
  for (const name of ["family", "kind", "goes"]) if (state[name] && v[name] !== state[name]) return false;
  for (const name of MEASURES) {
    const [from, to] = readRange(state[name]);
    const value = name === "clear" ? clearnessOf(card) : v[MEASURE_KEYS[name]];
    if (!(value >= from && value <= to)) return false;
  }
  const wanted = state.search.trim();
  if (!wanted) return true;
  const folded = plain(wanted), raw = wanted.normalize("NFC").toLowerCase();
  return v.folded.some((name) => folded && name.includes(folded)) || v.names.some((name) => name.normalize("NFC").toLowerCase().includes(raw));
}

function sorted(cards) {
  const key = SORT_KEYS[state.sort], sign = state.down ? -1 : 1;
  return cards.sort((a, b) => {
    if (!key) return sign * (a.place - b.place);
    const [x, y] = [key(a.variety, a), key(b.variety, b)];
    return x === y ? a.place - b.place : sign * (x < y ? -1 : 1);
  });
}

const isFiltered = () => [state.search, state.family, state.kind, state.goes, state.pattern, ...MEASURES.map((name) => state[name])].some(Boolean);

function findVarieties(cards, among) {
  const search = byId("search");
  for (const [value, text] of new Map(all.varieties.map((v) => [v.family, v.family_title]))) byId("family").append(make("option", { value, text }));
  for (const { id, words } of patternsToFind()) byId("pattern").append(make("option", { value: id, text: words }));
  const write = () => { for (const card of cards) card.line.textContent = cardLine(card.variety, card); };
  const patterns = followPatterns(cards, () => { if (asksForPattern()) arrange(); else write(); });
  function arrange() {
    if (asksForPattern()) patterns.see();
    const shown = sorted(cards.filter(matches));
    write();
    byId("grid").replaceChildren(...shown.map((card) => card.item));
    // On paper few pictures are printed larger.
    byId("grid").dataset.few = String(shown.length <= 12);
    among(shown);
    const n = shown.length;
    byId("found").textContent = n === cards.length ? "All " + n + " varieties are shown." : n + " of " + many(cards.length, "variety", "varieties") + (n === 1 ? " is" : " are") + " found.";
    byId("nothing").hidden = n > 0;
    byId("grid").hidden = n === 0;
    byId("clear-search").hidden = !state.search;
    byId("clear").disabled = !isFiltered();
  }
  const changed = () => { arrange(); keepInAddress(); };
  const again = () => { showFilters(); changed(); };
  const clear = () => {
    state.search = state.family = state.kind = state.goes = state.pattern = "";
    for (const name of MEASURES) state[name] = "";
    again();
  };
  followFilters(changed);
  byId("clear").addEventListener("click", clear);
  byId("clear-all").addEventListener("click", () => { clear(); search.focus(); });
  byId("clear-search").addEventListener("click", () => { state.search = ""; again(); search.focus(); });
  return { show: () => { showFilters(); arrange(); }, changed: patterns.changed };
}

// The kinds of pattern, with diagonals to either side as one.
function patternsToFind() {
  const kinds = all.patterns.slice();
  kinds.splice(kinds.findIndex((kind) => kind.id === "diagonals-left"), 0, { id: "diagonals", words: "diagonals" });
  return kinds;
}

function showFilters() {
  byId("search").value = state.search;
  for (const id of ["family", "kind", "goes", "pattern", "sort"]) {
    byId(id).value = state[id];
    if (byId(id).value !== state[id]) byId(id).value = state[id] = "";
  }
  byId("down").checked = state.down;
  for (const name of MEASURES) {
    const [from, to] = readRange(state[name]);
    byId(name + "-from").value = isFinite(from) ? from : "";
    byId(name + "-to").value = isFinite(to) ? to : "";
  }
}

function followFilters(changed) {
  byId("search").addEventListener("input", (event) => { state.search = event.target.value; changed(); });
  for (const id of ["family", "kind", "goes", "pattern", "sort"]) byId(id).addEventListener("change", (event) => { state[id] = event.target.value; changed(); });
  byId("down").addEventListener("change", (event) => { state.down = event.target.checked; changed(); });
  for (const name of MEASURES) {
    const ends = [byId(name + "-from"), byId(name + "-to")];
    for (const end of ends) {
      end.addEventListener("input", () => {
        const [from, to] = ends.map((field) => field.value);
        state[name] = from || to ? from + "-" + to : "";
        changed();
      });
    }
  }
}
