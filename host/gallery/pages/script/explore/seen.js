// What is seen of each colour, over the whole area after which colours repeat,
// as in `compare::pattern` of the program's source.

// One repeat as the program packed it: for each place the threads seen there,
// as slot, ink, slot, ink, …
function unpackSoftened({ size, place, shift, row }, bytes) {
  const { byte, number, signed } = byteReader(bytes);
  const places = Array.from({ length: size[0] * size[1] }, () => {
    const threads = [];
    for (let n = number(); n > 0; n--) threads.push(signed(), byte());
    return threads;
  });
  return { size, place, shift, row, places };
}

const around = (n, of) => ((n % of) + of) % of;

// How much of each colour is seen at each place. `threads` are the colours hung
// until they and the repeat both begin again.
function inksOf({ size: [across, down], place, shift, row, places }, threads) {
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
        const there = begin + around(column * across + at % across + offset(rows), wide);
        for (let k = 0; k < seen.length; k += 2) inks[colourOf(seen[k] + column * own)][there] += seen[k + 1];
      }
    });
    rows++;
    const before = came;
    came = row.map((above) => from(before, above));
  } while (rows < most && !threads.every((colour, slot) => colourOf(slot) === colour));
  return { area: { wide, high: rows * down, twist: offset(rows), place }, inks };
}

// The share of each colour at each place.
function sharesOf(ofColours) {
  const whole = Array.from(ofColours[0], (_, at) => ofColours.reduce((sum, values) => sum + values[at], 0));
  return ofColours.map((values) => Array.from(values, (value, at) => whole[at] > 0 ? value / whole[at] : 0));
}

const greatestDivisor = (a, b) => b === 0 ? Math.abs(a) : greatestDivisor(b, around(a, b));
