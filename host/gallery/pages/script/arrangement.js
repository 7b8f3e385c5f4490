// Arrangements: the colours of the threads from left to right, two threads to
// a pair, as numbers of colours; and how they are written with letters.

const letter = (colour) => String.fromCharCode(65 + colour);

// Reads `A/B C`; null if that is not an arrangement that can be painted.
function readArrangement(text) {
  const threads = [];
  const rest = text.replace(/\s*([A-Z])(?:\/([A-Z]))?\s*/g, (_, left, right) => {
    for (const one of [left, right || left]) threads.push(one.charCodeAt(0) - 65);
    return "";
  });
  const fits = rest === "" && threads.every((c) => c < all.colours.length) && all.lengths.includes(threads.length / 2);
  return fits ? threads : null;
}

function writeArrangement(threads, between) {
  const pairs = [];
  for (let k = 0; k < threads.length; k += 2) {
    const [left, right] = [letter(threads[k]), letter(threads[k + 1])];
    pairs.push(left === right ? left : left + "/" + right);
  }
  return pairs.join(between);
}
