// Arrangements: the colours of the threads from left to right, two threads to
// a pair, as numbers of colours; and how they are written with letters.

const letter = (colour) => String.fromCharCode(65 + colour);

// Reads `A/B C` or `7A 7B`: its threads, or what is wrong with it.
function readArrangement(text) {
  const threads = [];
  const rest = text.toUpperCase().replace(/(\d*)([A-Z])(?:\/([A-Z]))?/g, (_, times, left, right) => {
    const pair = [left, right || left].map((one) => one.charCodeAt(0) - 65);
    for (let k = Math.min(times === "" ? 1 : Number(times), all.longest + 1); k > 0; k--) threads.push(...pair);
    return "";
  });
  const last = letter(all.colours.length - 1);
  if (/\S/.test(rest) || threads.length === 0) return { fault: "cannot be read: write letters from A to " + last + ", a number before a letter to repeat it (4A), A/B for a pair of two colours" };
  if (threads.some((c) => c >= all.colours.length)) return { fault: "has a letter without a colour: there are colours from A to " + last };
  if (threads.length > 2 * all.longest) return { fault: "is too long: " + all.longest + " pairs at most" };
  return { threads };
}

function writeArrangement(threads, between) {
  const pairs = [];
  for (let k = 0; k < threads.length; k += 2) {
    const [left, right] = [letter(threads[k]), letter(threads[k + 1])];
    pairs.push(left === right ? left : left + "/" + right);
  }
  return pairs.join(between);
}

// The arrangement in which a variety hangs: in the class, that of the class.
function arrangementOf(variety) {
  const own = state.class && all.class.grounds.find((ground) => ground.name === variety.name);
  return own ? readArrangement(own.arrangement).threads : state.arrangement;
}
