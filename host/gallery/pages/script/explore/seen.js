// What is seen of each colour, over the whole area after which colours repeat,
// as in `compare::pattern` of the program's source.

// One repeat as the program packed it: for each place the threads seen there,
// as slot, ink, slot, ink, …
function unpackSoftened({ size, shift, row }, bytes) {
  const { byte, number, signed } = byteReader(bytes);
  const places = Array.from({ length: size[0] * size[1] }, () => {
    const threads = [];
    for (let n = number(); n > 0; n--) threads.push(signed(), byte());
    return threads;
  });
  return { size, shift, row, places };
}

const around = (n, of) => ((n % of) + of) % of;

// How much of each colour is seen at each place. `threads` are the colours hung
// until they and the repeat both begin again.
function inksOf({ size: [across, down], shift, row, places }, threads) {
  const own = row.length, { places: mostPlaces, tallest } = all.bounds;
  const columns = Math.min(threads.length / own, Math.max(Math.floor(mostPlaces / (across * down)), 1));
  const wide = columns * across;
  const most = Math.max(Math.min(Math.floor(mostPlaces / (wide * down)), Math.floor(tallest * wide / down)), 1);
  const offset = (r) => Math.floor(r * shift + 0.5);
  const inks = Array.from({ length: Math.max(...threads) + 1 }, () => []);
  let came = row.map((_, slot) => slot), rows = 0;
  const from = (slots, slot) => slots[around(slot, own)] + Math.floor(slot / own) * own;
  const colourOf = (slot) => threads[around(from(came, slot), threads.length)];
  do {
    for (const ink of inks) for (let k = 0; k < down * wide; k++) ink.push(0);
    places.forEach((seen, at) => {
      const begin = (rows * down + Math.floor(at / across)) * wide;
      for (let column = 0; column < columns; column++) {
        const place = begin + around(column * across + at % across + offset(rows), wide);
        for (let k = 0; k < seen.length; k += 2) inks[colourOf(seen[k] + column * own)][place] += seen[k + 1];
      }
    });
    rows++;
    const before = came;
    came = row.map((above) => from(before, above));
  } while (rows < most && !threads.every((colour, slot) => colourOf(slot) === colour));
  return { area: { wide, high: rows * down, twist: offset(rows) }, inks };
}

// Values as they are seen from farther away, times a constant: three times the
// sum of seven places across, and of seven down.
function fromAfar(area, values) {
  for (let k = 0; k < 3; k++) values = summed(area, summed(area, values, 1, 0), 0, 1);
  return values;
}

function summed({ wide, high, twist }, values, dx, dy) {
  const sums = new Float64Array(values.length);
  for (let by = -3; by <= 3; by++) {
    for (let y = 0; y < high; y++) {
      const below = y + by * dy, from = around(below, high) * wide, shift = around(by * dx - Math.floor(below / high) * twist, wide);
      for (let x = 0; x < wide; x++) sums[y * wide + x] += values[from + (x + shift) % wide];
    }
  }
  return sums;
}

// The share of each colour at each place.
function sharesOf(ofColours) {
  const whole = Array.from(ofColours[0], (_, at) => ofColours.reduce((sum, values) => sum + values[at], 0));
  return ofColours.map((values) => Array.from(values, (value, at) => whole[at] > 0 ? value / whole[at] : 0));
}

const greatestDivisor = (a, b) => b === 0 ? Math.abs(a) : greatestDivisor(b, around(a, b));

// The directions that lead back to where they began.
function waysOf({ wide, high, twist }) {
  const ways = [{ right: wide, down: 0 }];
  for (let times = 1; times <= Math.floor(2 * Math.max(wide, high) / high); times++) {
    const down = times * high, by = times * twist;
    for (let column = Math.floor((-2 * down - by) / wide); column <= Math.floor((2 * down - by) / wide); column++) {
      const right = column * wide + by;
      if (greatestDivisor(column, times) === 1 && Math.abs(right) <= 2 * down && ways.length < all.bounds.ways) ways.push({ right, down });
    }
  }
  return ways;
}

// How much of all differences runs along each direction, the strongest first.
const strongestOf = (area, ways, values) => ways.map((way) => ({ way, share: runningAlong(area, way, values) })).sort((a, b) => b.share - a.share);

function runningAlong({ wide, high }, { right, down }, values) {
  const whole = wide * high, lines = Math.max(Math.floor(whole / Math.sqrt(right * right + down * down) + 0.5), 1);
  const counts = new Float64Array(lines), sums = new Float64Array(lines);
  let sum = 0, squares = 0;
  for (let at = 0; at < whole; at++) {
    const line = Math.floor(around(at % wide * down - Math.floor(at / wide) * right, whole) * lines / whole), value = values[at];
    counts[line]++;
    sums[line] += value;
    sum += value;
    squares += value * value;
  }
  const even = sum * sum / whole, differences = squares - even;
  if (differences <= 1e-9 * squares) return 0;
  let left = -even;
  for (let line = 0; line < lines; line++) if (counts[line] > 0) left += sums[line] * sums[line] / counts[line];
  return Math.min(Math.max(left / differences, 0), 1);
}
