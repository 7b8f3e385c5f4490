//! A stencil as bytes, for painters outside this program: everything that
//! [`Stencil::paint`] uses, so that a reader paints the same pixels.
//!
//! Lace repeats, and so do its pixels: a picture has few different mixtures. They
//! are written once, as a table of *recipes*; each pixel then names its recipe
//! and its threads.
//!
//! ```text
//! width, height, recipes                numbers
//! first                                 signed number
//! parts of each recipe                  section, 1 byte each
//! background of all recipes, high bytes section
//! background of all recipes, low bytes  section
//! fixed colour of each recipe           section, 3 signed numbers each
//! weights of all parts, high bytes      section
//! weights of all parts, low bytes       section
//! recipe of each pixel, by rows         section
//! further bytes of these                section
//! thread of each part, pixel by pixel   section
//! threads that are not in the list      section, numbers
//! ```
//!
//! A *number* has 7 bits in each byte, lowest first; all bytes but its last
//! have the highest bit set. A *signed* number n is written as 2n, or -2n - 1
//! when negative. A *section* is the number of its bytes, then the bytes.
//!
//! *Fixed colours* are red, green and blue in units of 1/32768 of a step of 8
//! bits: red as the difference to the recipe before (at first to 0), green and
//! blue as the difference to red. *Background* is the share of the background's
//! colour, in units of 1/32768.
//!
//! A *recipe* below 128 is one byte. Above, either the byte is 128 + n with n
//! below 127, and one further byte m makes the recipe 128 + 256 n + m; or the
//! byte is 255, and three further bytes, highest first, are the recipe.
//!
//! A *thread* is counted from the leftmost one in the picture, which hangs at the
//! place *first* (0 is the first thread of the first pair). It is written as its
//! index in a list of the 255 threads met last, most recent first; 255 stands for
//! a thread that is not in the list and is taken from the last section. Then it
//! moves to the front of the list.
//!
//! A pixel is its fixed colour plus the colours of the background and of its
//! threads times their weights, divided by 32768, rounded, halves up, at most 255.

use indexmap::IndexMap;

use super::{ONE, Stencil};

/// A mixture: everything but thread, and the shares of the threads, largest
/// first.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Recipe {
    weights: Vec<u16>,
    back: u16,
    fixed: [u32; 3],
}

/// Number of threads in the list of those met last.
const MET: usize = 255;

/// Number of recipes that take one byte in a pixel.
const SHORT: usize = 128;
/// Number of recipes that take two.
const LONG: usize = SHORT + 127 * 256;

impl Stencil {
    /// The stencil as bytes. Each class is a thread; that of class 0 hangs at the
    /// place `first`.
    ///
    /// `None` for a drawing without a background, and when more than 255 threads
    /// meet in a pixel.
    pub fn packed(&self, first: i64) -> Option<Vec<u8>> {
        if !self.is_opaque() {
            return None;
        }
        let (recipes, pixels) = self.recipes();
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
        let mut table: Vec<&Recipe> = counts.into_keys().collect();
        if let Some(rest) = table.get_mut(SHORT..) {
            rest.sort_by_key(|r| (r.weights.len(), r.back, r.fixed, &r.weights));
        }
        let mut out = Vec::new();
        for value in [self.width, self.height, table.len() as u32] {
            number(&mut out, value);
        }
        signed(&mut out, first);
        write_table(&mut out, &table);
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
    fn recipes(&self) -> (Vec<Recipe>, Vec<(usize, Vec<u16>)>) {
        let mut recipes: IndexMap<Recipe, ()> = IndexMap::new();
        let mut named = |recipe: Recipe| {
            let entry = recipes.entry(recipe);
            let place = entry.index();
            entry.or_insert(());
            place
        };
        let count = self.width as usize * self.height as usize;
        let blank = Recipe { weights: Vec::new(), back: ONE as u16, fixed: [0; 3] };
        let mut pixels = Vec::with_capacity(count);
        let mut first = 0;
        for mixed in &self.mixed {
            while pixels.len() < mixed.at as usize {
                pixels.push((named(blank.clone()), Vec::new()));
            }
            let mut parts = self.parts[first..mixed.end as usize].to_vec();
            first = mixed.end as usize;
            parts.sort_by_key(|part| std::cmp::Reverse(part.weight));
            let [r, g, b, _] = mixed.fixed;
            let weights = parts.iter().map(|part| part.weight).collect();
            let threads = parts.iter().map(|part| part.class).collect();
            pixels.push((named(Recipe { weights, back: mixed.back, fixed: [r, g, b] }), threads));
        }
        while pixels.len() < count {
            pixels.push((named(blank.clone()), Vec::new()));
        }
        (recipes.into_keys().collect(), pixels)
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

fn write_table(out: &mut Vec<u8>, table: &[&Recipe]) {
    let parts: Vec<u8> = table.iter().map(|r| r.weights.len() as u8).collect();
    section(out, &parts);
    section(out, &table.iter().map(|r| (r.back >> 8) as u8).collect::<Vec<u8>>());
    section(out, &table.iter().map(|r| r.back as u8).collect::<Vec<u8>>());
    let mut fixed = Vec::new();
    let mut last = 0;
    for recipe in table {
        let [red, others @ ..] = recipe.fixed.map(i64::from);
        signed(&mut fixed, red - last);
        last = red;
        others.into_iter().for_each(|value| signed(&mut fixed, value - red));
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

fn write_threads(out: &mut Vec<u8>, threads: impl Iterator<Item = u16>) {
    let (mut places, mut new) = (Vec::new(), Vec::new());
    let mut met: Vec<u16> = Vec::new();
    for thread in threads {
        match met.iter().position(|&t| t == thread) {
            Some(place) => {
                places.push(place as u8);
                met[..=place].rotate_right(1);
            }
            None => {
                places.push(255);
                number(&mut new, u32::from(thread));
                met.insert(0, thread);
                met.truncate(MET);
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

    /// The picture in repeating colours, `colours[0]` at the place 0.
    fn painted(packed: &[u8], colours: &[Rgb], background: Rgb) -> Vec<[u8; 4]> {
        let mut bytes = Bytes(packed);
        let [width, height, recipes] = [0; 3].map(|_| bytes.number());
        let first = bytes.signed();
        let [mut parts, mut back_high, mut back_low] = [0; 3].map(|_| bytes.section());
        let [mut fixed, mut high, mut low] = [0; 3].map(|_| bytes.section());
        let mut red = 0;
        let table: Vec<([i64; 3], Vec<i64>)> = (0..recipes)
            .map(|_| {
                red += fixed.signed();
                let back = (back_high.byte() * 256 + back_low.byte()) as i64;
                let fixed = [red, red + fixed.signed(), red + fixed.signed()];
                let behind = [background.r, background.g, background.b].map(i64::from);
                let colour = [0, 1, 2].map(|k| fixed[k] + back * behind[k]);
                let weights = (0..parts.byte()).map(|_| (high.byte() * 256 + low.byte()) as i64).collect();
                (colour, weights)
            })
            .collect();
        let [mut pixels, mut more, mut threads, mut new] = [0; 4].map(|_| bytes.section());
        assert!(bytes.0.is_empty());
        let mut met: Vec<usize> = Vec::new();
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
                    let thread = if place == 255 { new.number() } else { met.remove(place) };
                    met.insert(0, thread);
                    met.truncate(255);
                    let c = colours[(first + thread as i64).rem_euclid(colours.len() as i64) as usize];
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
        for (mixtures, threads, px_per_mm) in [(0, 3, 1.0), (3, 2, 1.0), (60, 17, 3.0), (900, 700, 7.0)] {
            let stencil = Stencil::new(&drawing(mixtures, threads), px_per_mm);
            let packed = stencil.packed(0).unwrap();
            let colours: Vec<Rgb> = (0..threads)
                .map(|k| rgb((k * 91 % 256) as u8, (255 - k % 256) as u8, (k * 17 % 256) as u8))
                .collect();
            for background in [Rgb::LINEN, Rgb::NIGHT] {
                let alone = stencil.paint_on(&colours, background);
                assert_eq!(painted(&packed, &colours, background), alone.pixels(), "{mixtures}");
            }
        }
    }

    #[test]
    fn threads_are_counted_from_the_place_of_the_first() {
        let stencil = Stencil::new(&drawing(40, 12), 2.0);
        let colours = [rgb(200, 30, 30), rgb(20, 40, 90), rgb(250, 250, 0), rgb(1, 2, 3), rgb(9, 9, 9)];
        for first in [-7, 0, 3] {
            let hung = |class: i64| colours[(first + class).rem_euclid(5) as usize];
            let all: Vec<Rgb> = (0..12).map(hung).collect();
            let packed = stencil.packed(first).unwrap();
            assert_eq!(painted(&packed, &colours, Rgb::LINEN), stencil.paint(&all).pixels(), "{first}");
        }
        let open = Drawing { background: Background::Transparent, ..drawing(4, 2) };
        assert_eq!(Stencil::new(&open, 2.0).packed(0), None);
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
