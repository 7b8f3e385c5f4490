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

const inBytes = (high, low) => Int32Array.from(high, (h, k) => h << 8 | low[k]);

// The fixed colours of all recipes: red, green and blue in units of 1/32768.
function readFixed(section, recipes) {
  const { signed } = byteReader(section);
  const fixed = [0, 1, 2].map(() => new Int32Array(recipes));
  for (let k = 0, red = 0; k < recipes; k++) {
    red += signed();
    fixed[0][k] = red;
    for (const c of [1, 2]) fixed[c][k] = red + signed();
  }
  return fixed;
}

// A stencil from its bytes.
function unpack(bytes) {
  const { number, signed, section } = byteReader(bytes);
  const [width, height, recipes] = [number(), number(), number()];
  const first = signed();
  const parts = section();
  const start = new Uint32Array(recipes + 1);
  for (let k = 0; k < recipes; k++) start[k + 1] = start[k] + parts[k];
  const back = inBytes(section(), section());
  const fixed = readFixed(section(), recipes);
  const weights = inBytes(section(), section());
  return { width, height, first, start, back, fixed, weights, ...readPixels([section(), section(), section(), section()], width * height, start) };
}

// The recipe of each pixel, and its threads one after another, counted from the
// leftmost one in the picture.
function readPixels([pixels, more, places, fresh], size, start) {
  const mixtures = new Uint32Array(size);
  const threads = new Uint16Array(places.length);
  const { number } = byteReader(fresh);
  const met = [];
  let m = 0, t = 0, most = 0;
  for (let p = 0; p < size; p++) {
    let k = pixels[p];
    if (k === 255) { k = more[m] << 16 | more[m + 1] << 8 | more[m + 2]; m += 3; }
    else if (k >= 128) k = 128 + ((k - 128) << 8) + more[m++];
    mixtures[p] = k;
    for (let j = start[k]; j < start[k + 1]; j++, t++) {
      const place = places[t];
      const thread = place === 255 ? number() : met[place];
      if (place > 0) {
        if (place < 255) met.splice(place, 1);
        met.unshift(thread);
        if (met.length > 255) met.pop();
      }
      threads[t] = thread;
      if (thread >= most) most = thread + 1;
    }
  }
  return { mixtures, threads, count: most };
}

// A pixel in the format of a canvas, from sums in units of 1/32768.
function pixel(r, g, b) {
  r = r + 16384 >> 15;
  g = g + 16384 >> 15;
  b = b + 16384 >> 15;
  return (0xff000000 | (b > 255 ? 255 : b) << 16 | (g > 255 ? 255 : g) << 8 | (r > 255 ? 255 : r)) >>> 0;
}

// Paints a stencil into 32-bit pixels; `thread` gives the red, green and blue of
// the thread at a place, `back` is the cloth behind.
function paint(stencil, { thread, back }, into) {
  const { start, fixed, weights, mixtures, threads, first, count } = stencil;
  const [red, green, blue] = [0, 1, 2].map((c) => fixed[c].map((value, k) => value + stencil.back[k] * back[c]));
  const [cr, cg, cb] = [0, 1, 2].map(() => new Int32Array(count));
  for (let k = 0; k < count; k++) [cr[k], cg[k], cb[k]] = thread(first + k);
  const bare = Uint32Array.from(red, (r, k) => pixel(r, green[k], blue[k]));
  for (let p = 0, t = 0; p < mixtures.length; p++) {
    const mixture = mixtures[p], end = start[mixture + 1];
    let j = start[mixture];
    if (j === end) { into[p] = bare[mixture]; continue; }
    let r = red[mixture], g = green[mixture], b = blue[mixture];
    for (; j < end; j++, t++) {
      const w = weights[j], c = threads[t];
      r += w * cr[c];
      g += w * cg[c];
      b += w * cb[c];
    }
    into[p] = pixel(r, g, b);
  }
}
