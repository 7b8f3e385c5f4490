//! Times the steps of a thumbnail in one run: laying out, drawing, rasterising,
//! making the stencil, and painting it in another arrangement.
//!
//! `cargo bench -p pairwise-picture --bench thumbnail`; compare the rows.

use divan::Bencher;
use lace::{Grid, Ground};
use picture::colour::Rgb;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::{Drawing, rect};
use picture::export::raster::rasterise;
use picture::export::stencil::Stencil;
use picture::export::svg::to_svg;
use picture::layout::lay_out;
use resvg::{tiny_skia, usvg};

/// Side of a thumbnail in pixels, and the lace it shows in mm.
const SIDE: u32 = 160;
const WINDOW: f64 = 16.0;

fn main() {
    divan::main();
}

fn torchon() -> Ground {
    Ground::new(lace::samples::torchon("CT pin CT", 0)).expect("torchon ground has no errors")
}

fn drawing(px: u32) -> Drawing {
    let ground = torchon();
    let grid = Grid::new(4.0, 45.0).expect("a grid");
    let layout = lay_out(&ground, &grid, 4.0 / 12.0);
    let look = ThreadLook::new(vec![Rgb::BLACK; 8], f64::from(px) / WINDOW);
    draw_threads(&ground, &layout, rect(0.0, 0.0, WINDOW, WINDOW), &look)
}

#[divan::bench]
fn lay_out_torchon(bencher: Bencher) {
    let ground = torchon();
    let grid = Grid::new(4.0, 45.0).expect("a grid");
    bencher.bench(|| lay_out(&ground, &grid, 4.0 / 12.0));
}

#[divan::bench(args = [160, 256])]
fn rasterise_thumbnail(bencher: Bencher, px: u32) {
    let drawing = drawing(px);
    bencher.bench(|| rasterise(&drawing, f64::from(px) / WINDOW));
}

#[divan::bench(args = [160, 256])]
fn make_stencil(bencher: Bencher, px: u32) {
    let drawing = drawing(px);
    bencher.bench(|| Stencil::new(&drawing, f64::from(px) / WINDOW));
}

#[divan::bench(args = [160, 256])]
fn paint_stencil(bencher: Bencher, px: u32) {
    let stencil = Stencil::new(&drawing(px), f64::from(px) / WINDOW);
    let colours = [Rgb::WHITE, Rgb::BLACK].repeat(4);
    bencher.bench(|| stencil.paint(&colours));
}

#[divan::bench]
fn encode_png(bencher: Bencher) {
    let stencil = Stencil::new(&drawing(SIDE), f64::from(SIDE) / WINDOW);
    let image = stencil.paint(&[Rgb::WHITE, Rgb::BLACK].repeat(4));
    bencher.bench(|| image.to_png(f64::from(SIDE) / WINDOW));
}

/// The same picture by another renderer, from our SVG.
#[divan::bench(args = [256])]
fn resvg_of_the_same(bencher: Bencher, px: u32) {
    let svg = to_svg(&drawing(px), "t-");
    let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).expect("our SVG");
    let scale = px as f32 / tree.size().width();
    bencher.bench(|| {
        let mut pixels = tiny_skia::Pixmap::new(px, px).expect("a picture");
        resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
        pixels
    });
}
