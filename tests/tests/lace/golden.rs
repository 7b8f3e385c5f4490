//! Golden pictures: every variety of every built-in ground as a small thread
//! drawing, compared pixel by pixel with a reference that somebody has looked at.
//!
//! `PAIRWISE_BLESS=1 cargo test -p pairwise-tests --test lace golden` rewrites the
//! references and then fails, so that blessing cannot go unnoticed.

use std::fs;
use std::path::{Path, PathBuf};

use lace::{Grid, Ground, Thread};
use pairwise_tests::house::plugins;
use picture::colour::{Rgb, rgb};
use picture::drawing::rect;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::export::image::Image;
use picture::export::raster::rasterise;
use picture::layout::lay_out;

/// Side of a reference in pixels, and of the lace it shows in mm.
const SIDE: f64 = 80.0;
const WINDOW: f64 = 16.0;
/// Most bytes of a reference.
const LARGEST: usize = 20 * 1024;

/// The ground as hung in pairs of four colours.
fn draw(ground: &Ground, angle: f64) -> Image {
    let grid = Grid::new(4.0, angle).unwrap();
    let layout = lay_out(ground, &grid, Thread::suiting(4.0).diameter_mm());
    let four = [rgb(31, 63, 119), rgb(224, 123, 57), rgb(246, 240, 226), rgb(74, 122, 88)];
    let colours: Vec<Rgb> = four.into_iter().flat_map(|c| [c, c]).collect();
    let top = ground.top() * grid.step_y_mm();
    // One background for all, although pale thread would bring a darker one.
    let look = ThreadLook { background: Rgb::LINEN.into(), ..ThreadLook::new(colours, SIDE / WINDOW) };
    rasterise(&draw_threads(ground, &layout, rect(0.0, top, WINDOW, WINDOW), &look), SIDE / WINDOW)
}

fn read_png(bytes: &[u8]) -> Image {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::EXPAND | png::Transformations::ALPHA);
    let mut reader = decoder.read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut pixels).unwrap();
    assert_eq!(info.color_type, png::ColorType::Rgba);
    let pixels = pixels.chunks_exact(4).map(|p| [p[0], p[1], p[2], p[3]]).collect();
    Image::from_pixels(info.width, info.height, pixels).unwrap()
}

/// Reference, drawing and where they differ, side by side.
fn three_panels(reference: &Image, drawn: &Image) -> Image {
    let (w, h) = (drawn.width(), drawn.height());
    let mut all = Image::new(3 * w + 16, h, Some(Rgb::WHITE));
    all.lay(reference, 0, 0);
    all.lay(drawn, w + 8, 0);
    let differs = |(a, b): (&[u8; 4], &[u8; 4])| {
        let far = a.iter().zip(b).any(|(x, y)| x.abs_diff(*y) > 1);
        if far { [200, 0, 0, 255] } else { [255, 255, 255, 255] }
    };
    let marks = reference.pixels().iter().zip(drawn.pixels()).map(differs).collect();
    all.lay(&Image::from_pixels(w, h, marks).unwrap(), 2 * w + 16, 0);
    all
}

#[test]
fn every_variety_looks_like_its_reference() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let golden = here.join("golden");
    let bless = std::env::var_os("PAIRWISE_BLESS").is_some();
    let failures = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("golden");
    let mut wrong = Vec::new();
    let mut names = Vec::new();
    for plugin in plugins() {
        for variety in plugin.about.varieties.keys() {
            let name = format!("{}-{variety}.png", plugin.about.id);
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let drawn = draw(&Ground::new(repeat).unwrap(), plugin.about.angle);
            let bytes = drawn.to_png(SIDE / WINDOW);
            assert!(bytes.len() <= LARGEST, "{name} takes {} bytes", bytes.len());
            let file = golden.join(&name);
            names.push(name.clone());
            if bless {
                fs::write(&file, &bytes).unwrap();
                continue;
            }
            let Ok(reference) = fs::read(&file) else {
                wrong.push(format!("{name} is missing"));
                continue;
            };
            let reference = read_png(&reference);
            if reference.largest_difference(&drawn).is_none_or(|far| far > 1) {
                fs::create_dir_all(&failures).unwrap();
                let panels = failures.join(&name);
                fs::write(&panels, three_panels(&reference, &drawn).to_png(SIDE / WINDOW)).unwrap();
                wrong.push(format!("{name} looks different: see {}", panels.display()));
            }
        }
    }
    assert!(
        !bless,
        "{} references written; look at them, then run the tests without PAIRWISE_BLESS",
        names.len()
    );
    for entry in fs::read_dir(&golden).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(names.contains(&name), "{name} belongs to no variety: remove it");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
