// Whole repeats: after how much lace the colours come back, and how much lace a
// picture has to show. The same sums as in the program's `colour_period`.

const divisor = (a, b) => b ? divisor(b, a % b) : a;
const wrapped = (k, n) => ((k % n) + n) % n;

// How many repeats to the right the colours come back.
function repeatsAcross(own, threads) {
  const n = threads.length, most = n / divisor(own, n);
  for (let by = 1; by < most; by++) {
    if (most % by === 0 && threads.every((c, s) => c === threads[(s + own * by) % n])) return by;
  }
  return most;
}

// After how many rows of repeats the same colours lie straight below; null if not
// within so many rows.
function rowsDown({ row, every, back }, threads, most) {
  const own = row.length, n = threads.length, all = own * (n / divisor(own, n));
  const apply = (images, s) => images[wrapped(s, own)] + Math.floor(s / own) * own;
  let below = row.map((_, s) => s);
  for (let rows = 1; rows <= most; rows++) {
    below = row.map((s) => apply(below, s));
    if (rows % every !== 0) continue;
    const shift = rows / every * back * own;
    let same = true;
    for (let s = 0; s < all && same; s++) same = threads[s % n] === threads[wrapped(apply(below, s - shift), n)];
    if (same) return rows;
  }
  return null;
}

// The distances in mm at which the colours come back; `down` is null if they take
// very many rows.
function colourPeriod({ repeat }, threads) {
  const rows = rowsDown(repeat, threads, all.most_rows);
  return { across: repeatsAcross(repeat.row.length, threads) * repeat.width_mm, down: rows === null ? null : rows * repeat.row_mm };
}

// Whether a window shows a whole repeat of the stitches and one of the colours.
function wholeIn(mm, { repeat }, { across, down }) {
  const fits = (...sizes) => sizes.every((size) => size !== null && size <= mm + 1e-6);
  return { stitches: fits(repeat.width_mm, repeat.row_mm), colours: fits(across, down) };
}

// How much lace the picture of a variety shows, and what there is to say about it.
function windowOf(variety, threads) {
  const period = colourPeriod(variety, threads);
  const whole = (mm) => { const { stitches, colours } = wholeIn(mm, variety, period); return stitches && colours; };
  const mm = state.window || all.windows.find(whole) || all.windows.find((mm) => wholeIn(mm, variety, period).stitches) || all.windows[all.windows.length - 1];
  return { mm, words: shownInWords(mm, all.windows[0], wholeIn(mm, variety, period), variety, period, state.window > 0) };
}

// `32 mm of lace, 1/2 of the usual scale`, and what of the repeat is not shown.
function shownInWords(mm, usual, whole, { repeat }, { across, down }, chosen) {
  const words = [];
  if (mm > usual * 1.001 && !chosen) words.push(decimal(mm) + " mm of lace, " + decimal(mm / usual) + " times as much as usual");
  if (!whole.stitches) words.push("part of a repeat of " + decimal(repeat.width_mm) + " by " + decimal(repeat.row_mm) + " mm");
  else if (!whole.colours) words.push("part of a repeat of the colours, " + decimal(across) + " mm across" + (down === null ? "" : " by " + decimal(down) + " mm"));
  return words.join("; ");
}
