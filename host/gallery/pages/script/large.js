// The large pictures of varieties, each with where its pairs go.

// Loads the large data of a variety as a script, since pages opened from disk
// cannot read files. Returns a promise of its stencil and of where its pairs go.
all.large = {};
const loaded = new Map();
function load(name) {
  if (!loaded.has(name)) {
    loaded.set(name, new Promise((done, failed) => {
      const script = make("script", { src: root + "data/" + name + ".js" });
      script.addEventListener("load", () => done(all.large[name]));
      script.addEventListener("error", () => failed(new Error(name)));
      document.head.append(script);
    }).then(async (data) => ({ ways: data.ways, stencil: unpack(await inflate(data.picture)) })));
  }
  return loaded.get(name);
}

// What the large picture of a variety shows of a whole repeat; empty if that is a
// whole one at the usual scale.
function largeInWords(variety, threads) {
  const period = colourPeriod(variety, threads);
  return shownInWords(variety.large_mm, all.large_mm, wholeIn(variety.large_mm, variety, period), variety, period, false);
}
