// The kind of pattern that is seen, and how clear it is, as in `compare::pattern`
// of the program's source. Bounds come from the program.

const mirrored = (a, b) => a.right !== 0 && a.right * b.down === -b.right * a.down;
const stripesIn = ({ right, down }) => down === 0 ? "rows" : right === 0 ? "columns" : right < 0 ? "diagonals-left" : "diagonals-right";
const NO_STRENGTH = { way: { right: 0, down: 1 }, share: 0 };
const twoOf = (strengths) => [strengths[0] || NO_STRENGTH, strengths[1] || NO_STRENGTH];

// Stripes, if one direction stands out.
function findStripes(strengths, least) {
  const [first, second] = twoOf(strengths), stronger = all.bounds.stronger[mirrored(first.way, second.way) ? 1 : 0];
  return first.share >= least && first.share >= stronger * second.share ? [stripesIn(first.way), first.share] : null;
}

// Two directions that together account for nearly all.
function findCrossing(strengths) {
  const [first, second] = twoOf(strengths), both = first.share + second.share;
  if (both < all.bounds.crossing) return null;
  return mirrored(first.way, second.way) ? ["checks", both] : [stripesIn(first.way), first.share];
}

// What is seen from farther away, where colours lie in large patches.
function findPatches(strengths, shares, mean) {
  const { far_stripes: stripes, zigzags, spots, spots_share: spotsShare } = all.bounds;
  const found = findStripes(strengths, stripes);
  if (found) return found;
  const of = (kind) => (strengths.find((s) => stripesIn(s.way) === kind) || NO_STRENGTH).share;
  const down = of("columns");
  if (down >= zigzags * twoOf(strengths)[0].share && of("rows") < down / 2) {
    return ["zigzags", Math.min(down + (of("diagonals-left") + of("diagonals-right")), 1)];
  }
  let most = shares[0], least = shares[0];
  for (const share of shares) { most = Math.max(most, share); least = Math.min(least, share); }
  return [mean < spotsShare && most - mean >= spots * (mean - least) ? "spots" : "checks", 1];
}

function deviationOf(values) {
  let sum = 0, squares = 0;
  for (const value of values) { sum += value; squares += value * value; }
  const mean = sum / values.length;
  return Math.sqrt(Math.max(squares / values.length - mean * mean, 0));
}

const sumOf = (values) => { let sum = 0; for (const value of values) sum += value; return sum; };

// What is seen of one colour.
function seeColour({ area, ways, inks, near, far }, colour, share) {
  const [ink, close, away] = [inks, near, far].map((of) => deviationOf(of[colour]));
  const strengths = strongestOf(area, ways, inks[colour]);
  // Where there are large patches, weak stripes do not stand out.
  const least = away < all.bounds.coarse ? all.bounds.stripes : all.bounds.far_stripes;
  const purity = close / Math.sqrt(share * (1 - share));
  let found = purity < all.bounds.mixed ? ["even-mix", 0] : findStripes(strengths, least) || findCrossing(strengths);
  if (!found && away < all.bounds.coarse) found = ["even-mix", 0];
  if (!found) {
    const [kind, fits] = findPatches(strongestOf(area, ways, far[colour]), far[colour], share);
    found = [kind, fits * Math.min(away / close, 1)];
  }
  return { kind: found[0], weight: ink * ink, clearness: Math.min(found[1] * purity, 1) };
}

// What is seen of a repeat when these colours hang on its threads.
function seePattern(softened, hung) {
  if (hung.every((colour) => colour === hung[0])) return { kind: "plain", clearness: 0 };
  const own = softened.row.length, length = hung.length * own / greatestDivisor(hung.length, own);
  const { area, inks } = inksOf(softened, Array.from({ length }, (_, k) => hung[k % hung.length]));
  const seen = { area, ways: waysOf(area), inks, near: sharesOf(inks), far: sharesOf(inks.map((ink) => fromAfar(area, ink))) };
  const whole = inks.reduce((sum, ink) => sum + sumOf(ink), 0);
  const colours = [];
  inks.forEach((ink, colour) => {
    const share = sumOf(ink) / whole;
    if (share > 0 && share <= all.bounds.commonest) colours.push(seeColour(seen, colour, share));
  });
  const weighed = colours.reduce((sum, colour) => sum + colour.weight, 0);
  let best = { kind: "even-mix", clearness: 0 }, most = 0;
  for (const { id } of all.patterns) {
    let weight = 0, clear = 0;
    for (const colour of colours) if (colour.kind === id) { weight += colour.weight; clear += colour.weight * colour.clearness; }
    if (weight > most) { most = weight; best = { kind: id, clearness: clear / weighed }; }
  }
  return best;
}

// What is seen on the cards in the colours that hang now. Returns what computes it
// where it is not known, and calls `then` when it is known after a change; all
// waits until the page is painted.
function followPatterns(cards, then) {
  let hung = "", waiting = 0;
  function see() {
    const now = writeArrangement(state.arrangement, "");
    for (const card of cards) {
      if (!card.softened || card.seenIn === now) continue;
      card.seen = seePattern(card.softened, state.arrangement);
      card.seenIn = now;
    }
    hung = now;
  }
  const seeLater = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => { see(); then(); }, 0);
  };
  all.softened = Promise.all(cards.map(async (card) => {
    card.softened = unpackSoftened(card.variety.softened, await inflate(card.variety.softened.places));
  })).then(seeLater);
  return { see, changed: () => { if (hung !== writeArrangement(state.arrangement, "")) seeLater(); } };
}

const patternWords = ({ kind, clearness }) => {
  const { words } = all.patterns.find((pattern) => pattern.id === kind);
  return kind === "plain" || kind === "even-mix" ? words : words + ", " + Math.round(100 * clearness) + " % clear";
};
