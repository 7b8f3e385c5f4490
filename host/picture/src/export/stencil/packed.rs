//! A stencil as bytes, for painters outside this program: everything that
//! [`Stencil::paint`] uses, so that a reader paints the same pixels.
//!
//! Lace repeats, and so do its pixels: a picture has few different mixtures. They
//! are written once, as a table of *recipes*; each pixel then names its recipe
//! and its threads.
//!
//! ```text
//! width, height, period, recipes        numbers
//! background                            3 bytes: red, green, blue
//! parts of each recipe                  section, 1 byte each
//! fixed colour of each recipe           section, 3 signed numbers each
//! weights of all parts, high bytes      section
//! weights of all parts, low bytes       section
//! recipe of each pixel, by rows         section
//! further bytes of these                section
//! thread of each part, pixel by pixel   section
//! threads seen for the first time       section, 1 byte each
//! ```
//!
//! A *number* has 7 bits in each byte, lowest first; all bytes but its last
//! have the highest bit set. A *signed* number n is written as 2n, or -2n - 1
//! when negative. A *section* is the number of its bytes, then the bytes.
//!
//! *Fixed colours* are red, green and blue in units of 1/32768 of a step of 8
//! bits: red as the difference to the recipe before (at first to 0), green and
//! blue as the difference to `red * background green (blue) / background red`,
//! rounded, halves up (a background without red counts as having 1).
//!
//! A *recipe* below 128 is one byte. Above, either the byte is 128 + n with n
//! below 127, and one further byte m makes the recipe 128 + 256 n + m; or the
//! byte is 255, and three further bytes, highest first, are the recipe.
//!
//! A *thread* is its place among the hanging threads of one colour period, from 0
//! to `period` - 1. It is written as its index in a list of the threads met so
//! far, most recent first; 255 stands for a thread that is not in the list and is
//! taken from the last section. Then it moves to the front of the list.
//!
//! A pixel is its fixed colour plus the colours of its threads times their
//! weights, divided by 32768, rounded, halves up, at most 255.

use indexmap::IndexMap;

use super::{ONE, Stencil};

/// A mixture: everything but thread, and the shares of the threads, largest
/// first.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Recipe {
    weights: Vec<u16>,
    fixed: [u32; 3],
}

/// Number of recipes that take one byte in a pixel.
const SHORT: usize = 128;
/// Number of recipes that take two.
const LONG: usize = SHORT + 127 * 256;

impl Stencil {
    /// The stencil as bytes, with class `k` as thread `k` modulo `period`, the number
    /// of threads (1 to 255) after which the colours repeat.
    ///
    /// `None` for a drawing without a background, for a period of 0, and when more
    /// than 255 threads meet in a pixel.
    pub fn packed(&self, period: u8) -> Option<Vec<u8>> {
        if !self.opaque || period == 0 {
            return None;
        }
        let (recipes, pixels) = self.recipes(period);
        if recipes.iter().any(|recipe| recipe.weights.len() > 255) {
            return None;
        }
        let mut counts: IndexMap<&Recipe, usize> = IndexMap::new();
        for (recipe, _) in &pixels {
            *counts.entry(&recipes[*recipe]).or_default() += 1;
        }
        // The most frequent first, where codes are short; the others sorted, so
        // that each is similar to the one before.
        counts.sort_by(|a, m, b, n| n.cmp(m).then(a.cmp(b)));
        let plain = counts
            .keys()
            .find(|r| r.weights.is_empty())
            .map_or([255; 3], |r| r.fixed.map(|v| ((v + ONE as u32 / 2) / ONE as u32).min(255) as u8));
        let mut table: Vec<&Recipe> = counts.into_keys().collect();
        if let Some(rest) = table.get_mut(SHORT..) {
            rest.sort_by_key(|r| (r.weights.len(), r.fixed, &r.weights));
        }
        let mut out = Vec::new();
        for value in [self.width, self.height, u32::from(period), table.len() as u32] {
            number(&mut out, value);
        }
        out.extend(plain);
        write_table(&mut out, &table, plain);
        let mut places = vec![0; recipes.len()];
        let at: IndexMap<&Recipe, usize> = table.iter().enumerate().map(|(k, r)| (*r, k)).collect();
        for (place, recipe) in places.iter_mut().zip(&recipes) {
            *place = at[recipe];
        }
        write_pixels(&mut out, pixels.iter().map(|(recipe, _)| places[*recipe]));
        write_threads(&mut out, pixels.iter().flat_map(|(_, threads)| threads.iter().copied()));
        Some(out)
    }

    /// The different recipes, and for each pixel its recipe and threads.
    fn recipes(&self, period: u8) -> (Vec<Recipe>, Vec<(usize, Vec<u8>)>) {
        let mut recipes: IndexMap<Recipe, ()> = IndexMap::new();
        let mut named = |recipe: Recipe| {
            let entry = recipes.entry(recipe);
            let place = entry.index();
            entry.or_insert(());
            place
        };
        let mut pixels = Vec::with_capacity(self.ground.len());
        let mut first = 0;
        for mixed in &self.mixed {
            while pixels.len() < mixed.at as usize {
                pixels.push((named(self.without_thread(pixels.len())), Vec::new()));
            }
            let mut parts = self.parts[first..mixed.end as usize].to_vec();
            first = mixed.end as usize;
            parts.sort_by_key(|part| std::cmp::Reverse(part.weight));
            let [r, g, b, _] = mixed.fixed;
            let weights = parts.iter().map(|part| part.weight).collect();
            let threads = parts.iter().map(|part| (part.class % u16::from(period)) as u8).collect();
            pixels.push((named(Recipe { weights, fixed: [r, g, b] }), threads));
        }
        while pixels.len() < self.ground.len() {
            pixels.push((named(self.without_thread(pixels.len())), Vec::new()));
        }
        (recipes.into_keys().collect(), pixels)
    }

    fn without_thread(&self, at: usize) -> Recipe {
        let [r, g, b, _] = self.ground[at];
        Recipe { weights: Vec::new(), fixed: [r, g, b].map(|v| u32::from(v) * ONE as u32) }
    }
}

fn number(out: &mut Vec<u8>, mut value: u32) {
    while value >= 128 {
        out.push((value & 127) as u8 | 128);
        value >>= 7;
    }
    out.push(value as u8);
}

fn signed(out: &mut Vec<u8>, value: i64) {
    number(out, if value < 0 { -2 * value - 1 } else { 2 * value } as u32);
}

fn section(out: &mut Vec<u8>, bytes: &[u8]) {
    number(out, bytes.len() as u32);
    out.extend(bytes);
}

fn write_table(out: &mut Vec<u8>, table: &[&Recipe], background: [u8; 3]) {
    let parts: Vec<u8> = table.iter().map(|r| r.weights.len() as u8).collect();
    section(out, &parts);
    let mut fixed = Vec::new();
    let mut last = 0;
    let base = i64::from(background[0].max(1));
    for recipe in table {
        let [red, others @ ..] = recipe.fixed.map(i64::from);
        signed(&mut fixed, red - last);
        last = red;
        for (value, share) in others.into_iter().zip(&background[1..]) {
            signed(&mut fixed, value - (2 * red * i64::from(*share) + base) / (2 * base));
        }
    }
    section(out, &fixed);
    let weights = || table.iter().flat_map(|r| &r.weights);
    section(out, &weights().map(|w| (w >> 8) as u8).collect::<Vec<u8>>());
    section(out, &weights().map(|w| *w as u8).collect::<Vec<u8>>());
}

fn write_pixels(out: &mut Vec<u8>, recipes: impl Iterator<Item = usize>) {
    let (mut bytes, mut more) = (Vec::new(), Vec::new());
    for recipe in recipes {
        if recipe < SHORT {
            bytes.push(recipe as u8);
        } else if recipe < LONG {
            let over = recipe - SHORT;
            bytes.push((SHORT + over / 256) as u8);
            more.push(over as u8);
        } else {
            bytes.push(255);
            more.extend([(recipe >> 16) as u8, (recipe >> 8) as u8, recipe as u8]);
        }
    }
    section(out, &bytes);
    section(out, &more);
}

fn write_threads(out: &mut Vec<u8>, threads: impl Iterator<Item = u8>) {
    let (mut places, mut new) = (Vec::new(), Vec::new());
    let mut met: Vec<u8> = Vec::new();
    for thread in threads {
        match met.iter().position(|&t| t == thread) {
            Some(place) => {
                places.push(place as u8);
                met[..=place].rotate_right(1);
            }
            None => {
                places.push(255);
                new.push(thread);
                met.insert(0, thread);
            }
        }
    }
    section(out, &places);
    section(out, &new);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{Rgb, Tone, rgb};
    use crate::drawing::{Background, Drawing, Group, Paint, Path, Shape, rect};

    /// An independent reader, written from the description above.
    struct Bytes<'a>(&'a [u8]);

    impl<'a> Bytes<'a> {
        fn number(&mut self) -> usize {
            let mut value = 0;
            for k in 0.. {
                let byte = self.0[0];
                self.0 = &self.0[1..];
                value |= usize::from(byte & 127) << (7 * k);
                if byte < 128 {
                    break;
                }
            }
            value
        }

        fn signed(&mut self) -> i64 {
            let n = self.number() as i64;
            if n % 2 == 0 { n / 2 } else { -(n + 1) / 2 }
        }

        fn section(&mut self) -> Bytes<'a> {
            let length = self.number();
            let (section, rest) = self.0.split_at(length);
            self.0 = rest;
            Bytes(section)
        }

        fn byte(&mut self) -> usize {
            let (first, rest) = self.0.split_first().unwrap();
            self.0 = rest;
            usize::from(*first)
        }
    }

    fn painted(packed: &[u8], colours: &[Rgb]) -> Vec<[u8; 4]> {
        let mut bytes = Bytes(packed);
        let [width, height, period, recipes] = [0; 4].map(|_| bytes.number());
        assert_eq!(period, colours.len());
        let background: [i64; 3] = [0; 3].map(|_| bytes.byte() as i64);
        let [mut parts, mut fixed, mut high, mut low] = [0; 4].map(|_| bytes.section());
        let mut red = 0;
        let table: Vec<([i64; 3], Vec<i64>)> = (0..recipes)
            .map(|_| {
                red += fixed.signed();
                let base = background[0].max(1);
                let near = |k: usize| (2 * red * background[k] + base).div_euclid(2 * base);
                let colour = [red, near(1) + fixed.signed(), near(2) + fixed.signed()];
                let weights = (0..parts.byte()).map(|_| (high.byte() * 256 + low.byte()) as i64).collect();
                (colour, weights)
            })
            .collect();
        let [mut pixels, mut more, mut threads, mut new] = [0; 4].map(|_| bytes.section());
        assert!(bytes.0.is_empty());
        let mut met = Vec::new();
        (0..width * height)
            .map(|_| {
                let recipe = match pixels.byte() {
                    k if k < 128 => k,
                    255 => more.byte() << 16 | more.byte() << 8 | more.byte(),
                    k => 128 + 256 * (k - 128) + more.byte(),
                };
                let (mut sum, weights) = table[recipe].clone();
                for weight in weights {
                    let place = threads.byte();
                    let thread = if place == 255 { new.byte() } else { met.remove(place) };
                    met.insert(0, thread);
                    let c = colours[thread];
                    for (s, v) in sum.iter_mut().zip([c.r, c.g, c.b]) {
                        *s += weight * i64::from(v);
                    }
                }
                let [r, g, b] = sum.map(|v| ((v + 16_384) / 32_768).min(255) as u8);
                [r, g, b, 255]
            })
            .collect()
    }

    /// Slanting threads that cross under shadows, with `mixtures` different ones.
    fn drawing(mixtures: usize, threads: usize) -> Drawing {
        let mut drawing = Drawing::new(40.0, 30.0, "threads");
        drawing.background = Rgb::LINEN.into();
        drawing.colours = vec![Rgb::BLACK; threads];
        let mut group = Group::new("threads");
        for k in 0..mixtures {
            let x = (k * 7 % 37) as f64 + 0.003 * k as f64;
            let area = rect(x, 0.37 * (k % 11) as f64, 2.3, 20.1 + 0.01 * k as f64);
            let tone = Tone::light((k % 50) as i8 - 25);
            group.shapes.push(Shape::fill(Path::rect(area), Paint::thread(k % threads, tone)));
            if k % 3 == 0 {
                group.shapes.push(Shape::fill(Path::rect(area.grown(0.2)), Paint::veil(Rgb::BLACK, 0.2)));
            }
        }
        drawing.groups.push(group);
        drawing
    }

    #[test]
    fn a_packed_stencil_paints_the_same_pixels() {
        for (mixtures, threads, px_per_mm) in [(0, 3, 1.0), (3, 2, 1.0), (60, 17, 3.0), (300, 255, 7.0)] {
            let stencil = Stencil::new(&drawing(mixtures, threads), px_per_mm);
            let packed = stencil.packed(threads as u8).unwrap();
            let colours: Vec<Rgb> = (0..threads)
                .map(|k| rgb((k * 91 % 256) as u8, (255 - k) as u8, (k * 17 % 256) as u8))
                .collect();
            assert_eq!(painted(&packed, &colours), stencil.paint(&colours).pixels(), "{mixtures}");
        }
    }

    #[test]
    fn repeating_colours_are_packed_once() {
        let stencil = Stencil::new(&drawing(40, 12), 2.0);
        let colours = [rgb(200, 30, 30), rgb(20, 40, 90), rgb(250, 250, 0), rgb(1, 2, 3)];
        let all: Vec<Rgb> = colours.iter().copied().cycle().take(12).collect();
        assert_eq!(painted(&stencil.packed(4).unwrap(), &colours), stencil.paint(&all).pixels());
        assert_eq!(stencil.packed(0), None);
        let open = Drawing { background: Background::Transparent, ..drawing(4, 2) };
        assert_eq!(Stencil::new(&open, 2.0).packed(2), None);
    }

    #[test]
    fn numbers_of_every_length_are_read_back() {
        let values = [0, 1, -1, 63, -64, 64, 8191, -8192, 100_000, -7_000_000];
        let mut out = Vec::new();
        values.iter().for_each(|&v| signed(&mut out, v));
        let mut bytes = Bytes(&out);
        assert_eq!(values.map(|_| bytes.signed()), values);
        // The three ways in which recipes are written.
        let recipes = [0, 127, 128, 383, 384, LONG - 1, LONG, 70_000];
        let mut out = Vec::new();
        write_pixels(&mut out, recipes.into_iter());
        let mut bytes = Bytes(&out);
        let [mut pixels, mut more] = [0; 2].map(|_| bytes.section());
        let read = recipes.map(|_| match pixels.byte() {
            k if k < 128 => k,
            255 => more.byte() << 16 | more.byte() << 8 | more.byte(),
            k => 128 + 256 * (k - 128) + more.byte(),
        });
        assert_eq!(read, recipes);
    }
}
