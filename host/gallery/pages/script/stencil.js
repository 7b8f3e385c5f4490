// Pictures as stencils: unpacked and painted in any colours. For the meaning of
// the bytes see `picture::export::stencil::packed` in the program's source.

// The bytes in base64 text that contains raw DEFLATE (RFC 1951).
async function inflate(letters) {
  const packed = Uint8Array.from(atob(letters), (c) => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

// Numbers and sections, one after another.
function byteReader(bytes) {
  let at = 0;
  const byte = () => bytes[at++];
  const number = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const part = byte();
      value |= (part & 127) << shift;
      if (part < 128) return value;
    }
  };
  const signed = () => { const n = number(); return n & 1 ? -(n + 1) / 2 : n / 2; };
  const section = () => {
    const size = number();
    at += size;
    return bytes.subarray(at - size, at);
  };
  return { byte, number, signed, section };
}

// The fixed colours of all recipes: red, green and blue in units of 1/32768.
function readFixed(section, recipes, back) {
  const { signed } = byteReader(section);
  const fixed = [0, 1, 2].map(() => new Int32Array(recipes));
  const base = Math.max(back[0], 1);
  for (let k = 0, red = 0; k < recipes; k++) {
    red += signed();
    fixed[0][k] = red;
    for (const c of [1, 2]) fixed[c][k] = Math.floor((2 * red * back[c] + base) / (2 * base)) + signed();
  }
  return fixed;
}

// A stencil from its bytes.
function unpack(bytes) {
  const { byte, number, section } = byteReader(bytes);
  const [width, height, period, recipes] = [number(), number(), number(), number()];
  const back = [byte(), byte(), byte()];
  const parts = section();
  const start = new Uint32Array(recipes + 1);
  for (let k = 0; k < recipes; k++) start[k + 1] = start[k] + parts[k];
  const fixed = readFixed(section(), recipes, back);
  const [high, low] = [section(), section()];
  const weights = Int32Array.from(high, (h, k) => h << 8 | low[k]);
  return { width, height, period, start, fixed, weights, ...readPixels([section(), section(), section(), section()], width * height, start, fixed) };
}

// The picture without threads, and for each pixel with threads its place, its
// recipe and its threads.
function readPixels([pixels, more, places, fresh], size, start, fixed) {
  const ground = new Uint32Array(size);
  const spots = new Uint32Array(size), mixtures = new Uint32Array(size);
  const threads = new Uint8Array(places.length);
  const met = [];
  let count = 0, m = 0, f = 0, t = 0;
  for (let p = 0; p < pixels.length; p++) {
    let k = pixels[p];
    if (k === 255) { k = more[m] << 16 | more[m + 1] << 8 | more[m + 2]; m += 3; }
    else if (k >= 128) k = 128 + ((k - 128) << 8) + more[m++];
    if (start[k] === start[k + 1]) {
      ground[p] = pixel(fixed[0][k], fixed[1][k], fixed[2][k]);
      continue;
    }
    spots[count] = p;
    mixtures[count++] = k;
    for (let j = start[k]; j < start[k + 1]; j++, t++) {
      const place = places[t];
      const thread = place === 255 ? fresh[f++] : met[place];
      if (place === 255) met.unshift(thread);
      else if (place > 0) { met.splice(place, 1); met.unshift(thread); }
      threads[t] = thread;
    }
  }
  return { ground, spots: spots.slice(0, count), mixtures: mixtures.slice(0, count), threads };
}

// A pixel in the format of a canvas, from sums in units of 1/32768.
function pixel(r, g, b) {
  r = r + 16384 >> 15;
  g = g + 16384 >> 15;
  b = b + 16384 >> 15;
  return (0xff000000 | (b > 255 ? 255 : b) << 16 | (g > 255 ? 255 : g) << 8 | (r > 255 ? 255 : r)) >>> 0;
}

// Paints a stencil into 32-bit pixels; `colours` has red, green and blue of
// every thread of one arrangement.
function paint(stencil, colours, into) {
  const { start, fixed, weights, spots, mixtures, threads } = stencil;
  const [red, green, blue] = fixed, [cr, cg, cb] = colours;
  into.set(stencil.ground);
  for (let k = 0, t = 0; k < spots.length; k++) {
    const mixture = mixtures[k], end = start[mixture + 1];
    let r = red[mixture], g = green[mixture], b = blue[mixture];
    for (let j = start[mixture]; j < end; j++, t++) {
      const w = weights[j], c = threads[t];
      r += w * cr[c];
      g += w * cg[c];
      b += w * cb[c];
    }
    into[spots[k]] = pixel(r, g, b);
  }
}
