// What is seen of a colour, taken apart into even stripes of every width and
// direction, as in `compare::pattern` of the program's source. Complex numbers are
// [real, imaginary].

// One, turned back by a part of a whole turn.
const turnedBy = (part, whole) => [Math.cos(2 * Math.PI * part / whole), -Math.sin(2 * Math.PI * part / whole)];
const rootsOf = (length) => Array.from({ length }, (_, k) => turnedBy(k, length));

// The discrete Fourier transform: every so many values alone, then put together.
function transformed(values, roots) {
  const length = values.length;
  let factor = 2;
  while (factor <= length && length % factor !== 0) factor++;
  if (factor > length) return values;
  const each = length / factor, step = roots.length / length;
  const parts = Array.from({ length: factor }, (_, first) => transformed(Array.from({ length: each }, (_, k) => values[first + k * factor]), roots));
  return Array.from({ length }, (_, k) => {
    let real = 0, imaginary = 0;
    for (let first = 0; first < factor; first++) {
      const [a, b] = parts[first][k % each], [c, d] = roots[first * k % length * step];
      real += a * c - b * d;
      imaginary += a * d + b * c;
    }
    return [real, imaginary];
  });
}

// Within fifteen degrees, waves count as level or straight down.
const LEANS = 0.268;
function directionOf(across, down) {
  const x = Math.abs(across), y = Math.abs(down);
  if (y <= LEANS * x) return 0;
  if (x <= LEANS * y) return 1;
  return across > 0 === down > 0 ? 2 : 3;
}

// The waves that the eye could tell, one of each two that differ in sign only.
function wavesOf({ wide, high, twist, place }) {
  const all = [], whole = wide * high;
  for (let across = 0; across < Math.floor((wide + 1) / 2); across++) {
    const columns = across / (wide * place[0]);
    if (columns * columns > 1) break;
    const most = Math.floor(Math.min(whole * place[1], Math.floor((whole - 1) / 2)));
    for (let down = -most + around(most - across * twist, wide); down <= most; down += wide) {
      const rows = down / (whole * place[1]), fine = columns * columns + rows * rows;
      if (fine <= 1 && (across > 0 || down > 0)) all.push({ across, down, direction: directionOf(columns, rows), fine });
    }
  }
  return all;
}

// What finds how much of each wave there is in values for each place.
function spectrumIn({ wide, high, twist }, waves) {
  const widest = waves.length > 0 ? waves[waves.length - 1].across + 1 : 1, rowRoots = rootsOf(wide), columnRoots = rootsOf(high);
  return (values) => {
    const columns = Array.from({ length: widest }, () => []);
    for (let row = 0; row < high; row++) {
      const own = transformed(Array.from({ length: wide }, (_, x) => [values[row * wide + x], 0]), rowRoots);
      for (let across = 0; across < widest; across++) {
        const [a, b] = own[across], [c, d] = turnedBy(around(across * twist * row, wide * high), wide * high);
        columns[across].push([a * c + b * d, b * c - a * d]);
      }
    }
    const found = columns.map((column) => transformed(column, columnRoots));
    return waves.map(({ across, down }) => found[across][around(Math.floor((down + across * twist) / wide), high)].map((part) => part / (wide * high)));
  };
}

const alongside = ([a, b], [c, d]) => a * c + b * d;

// For each wave, how much of its power is left when the eye blends over so many steps.
const leftOf = (waves, blend) => waves.map(({ fine }) => Math.exp(-((2 * Math.PI * blend) ** 2) * fine));
const powerOf = (spectrum, left) => spectrum.reduce((sum, value, k) => sum + 2 * alongside(value, value) * left[k], 0);

// How closely a colour follows the thread.
function correlationOf(colour, thread, left) {
  const both = colour.reduce((sum, value, k) => sum + 2 * alongside(value, thread[k]) * left[k], 0);
  const alone = Math.sqrt(powerOf(colour, left) * powerOf(thread, left));
  return alone > 1e-12 ? both / alone : 0;
}

// How the strongest stripes straight down swing.
function swingsOf(waves, differs, left) {
  const values = differs.map((value, k) => value.map((part) => part * Math.sqrt(left[k])));
  const strength = (k) => alongside(values[k], values[k]);
  let straight = -1;
  waves.forEach(({ down }, k) => {
    if (down === 0 && strength(k) > (straight < 0 ? 1e-12 : strength(straight) * (1 + 1e-9))) straight = k;
  });
  if (straight < 0) return { places: 0, strength: 0, share: 0 };
  const same = [...waves.keys()].filter((k) => waves[k].across === waves[straight].across);
  const by = values[straight], square = alongside(by, by);
  const divided = ([a, b]) => [(a * by[0] + b * by[1]) / square, (b * by[0] - a * by[1]) / square];
  let places = 0, changes = 0, share = 0, all = 0;
  for (let k = 0; k < Math.floor(same.length / 2); k++) {
    const [a, b] = divided(values[same[k]]), [c, d] = divided(values[same[same.length - 1 - k]]);
    places += (a - c) ** 2 + (b + d) ** 2;
    changes += (a + c) ** 2 + (b - d) ** 2;
  }
  for (const k of same) share += strength(k);
  for (const k of values.keys()) all += strength(k);
  return { places: Math.sqrt(places / 2), strength: Math.sqrt(changes / 2), share: share / all };
}
