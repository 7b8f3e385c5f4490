//! SVG and PDF against other renderers and a ruler.

use crate::common::{laid_out, rose, torchon};
use crate::rendered::Rendered;
use crate::true_size::by_poppler;
use lace::point;
use picture::colour::{Rgb, rgb};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::{Anchor, Drawing, Face, Group, Path, Repeating, Shape, Size, Stroke, Text, rect};
use picture::export::image::Image;
use picture::export::pdf::{PdfError, to_pdf};
use picture::export::raster::rasterise;
use picture::export::svg::to_svg;

fn sample(style: Style) -> Drawing {
    let ground = rose("CTCT", "CT pin CT");
    let layout = laid_out(&ground);
    let colours = vec![rgb(160, 40, 50), Rgb::WHITE, rgb(30, 60, 120), rgb(196, 150, 40)];
    let look = ThreadLook { style, pins: true, ..ThreadLook::new(colours, 20.0) };
    let mut page = Drawing::new(30.0, 34.0, "Rose ground");
    page.background = Rgb::WHITE.into();
    page.place(&draw_threads(&ground, &layout, rect(0.0, 0.0, 24.0, 24.0), &look), point(3.0, 2.0), "lace-");
    let mut group = Group::new("words");
    group.shapes.push(Shape::Text(Text {
        at: point(15.0, 31.5),
        size: 4.0,
        words: "Rose & <ground> ×4".into(),
        anchor: Anchor::Middle,
        face: Face::Semibold,
        paint: Rgb::INK.into(),
    }));
    let line = Path::line([point(3.0, 28.0), point(27.0, 28.0)]);
    group.shapes.push(Shape::stroke(line, Stroke { dash: Some([1.0, 0.6]), ..Stroke::new(Rgb::INK, 0.3) }));
    page.groups.push(group);
    page
}

fn by_resvg(svg: &str, width: u32, height: u32) -> Image {
    let tree = resvg::usvg::Tree::from_str(svg, &resvg::usvg::Options::default()).unwrap();
    let mut pixmap = tiny_skia::Pixmap::new(width, height).unwrap();
    let size = tree.size();
    let transform =
        tiny_skia::Transform::from_scale(width as f32 / size.width(), height as f32 / size.height());
    resvg::render(&tree, transform, &mut pixmap.as_mut());
    let pixels = pixmap.pixels().iter().map(|p| {
        let c = p.demultiply();
        [c.red(), c.green(), c.blue(), c.alpha()]
    });
    Image::from_pixels(width, height, pixels.collect()).unwrap()
}

/// Mean difference of a channel, and the share of pixels in which some channel
/// differs by more than 16 of 255.
fn compare(a: &Image, b: &Image) -> (f64, f64) {
    let (mut sum, mut far) = (0u64, 0usize);
    for (p, q) in a.pixels().iter().zip(b.pixels()) {
        let apart = [0, 1, 2, 3].map(|k| p[k].abs_diff(q[k]));
        sum += apart.iter().map(|&d| u64::from(d)).sum::<u64>();
        far += usize::from(apart.iter().any(|&d| d > 16));
    }
    let count = a.pixels().len() as f64;
    (sum as f64 / (4.0 * count), far as f64 / count)
}

// Outside check: resvg reads the SVG with its own parser and blends with its own
// rounding. Bounds: 0.5 of 255 on average, and at most 1 pixel in 1,000 that
// differs by more than 16.
#[test]
fn resvg_draws_our_svg_as_we_draw_it() {
    for style in [Style::Shaded, Style::Plain] {
        let drawing = sample(style);
        let ours = rasterise(&drawing, 20.0);
        let theirs = by_resvg(&to_svg(&drawing, "a-"), ours.width(), ours.height());
        let (mean, far) = compare(&ours, &theirs);
        assert!(mean <= 0.5, "{style:?}: {mean}");
        assert!(far <= 0.001, "{style:?}: {far}");
    }
}

#[test]
fn the_svg_is_sized_in_millimetres_and_can_be_recoloured_by_the_page() {
    let svg = to_svg(&sample(Style::Shaded), "a-");
    assert!(svg.contains(r#"width="30mm" height="34mm" viewBox="0 0 30 34""#));
    assert!(svg.contains("color: var(--thread-2, #1e3c78)"));
    assert!(svg.contains(r#"<g id="a-lace-thread-2-over""#));
    assert!(svg.contains("Rose &amp; &lt;ground&gt; ×4"));
    for name in ["script", "http-equiv", "href=\"http"] {
        assert!(!svg.contains(name));
    }
    // Every name is unique.
    let mut names: Vec<&str> =
        svg.split(" id=\"").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
}

#[test]
fn the_same_drawing_makes_the_same_bytes() {
    let make = || (to_svg(&sample(Style::Shaded), ""), to_pdf(&[sample(Style::Shaded)]).unwrap());
    assert_eq!(make(), make());
}

#[test]
fn a_page_too_large_or_without_area_is_refused() {
    for (width, height) in [(0.0, 10.0), (10.0, f64::NAN), (6000.0, 10.0)] {
        let refused = to_pdf(&[Drawing::new(width, height, "")]);
        assert!(matches!(refused, Err(PdfError::Size(..))), "{width} by {height}");
    }
}

// Outside check: poppler at 300 dpi draws a repeating picture, of which one repeat is
// embedded, nearly as it draws all of its curves: 4 of 255 apart on average, for shades
// rounded to 64 colours and edges to 200 dpi; a repeat of the wrong size more than 8.
#[test]
fn a_picture_that_repeats_is_laid_side_by_side() {
    let ground = torchon("CT pin CT", 0);
    let layout = laid_out(&ground);
    let look = ThreadLook::new(vec![Rgb::INDIGO, Rgb::INDIGO, Rgb::APRICOT, Rgb::APRICOT], 20.0);
    let mut curves = Drawing::new(40.0, 40.0, "Torchon");
    let view = rect(3.0, 5.0, 34.0, 30.0);
    let threads = draw_threads(&ground, &layout, rect(0.0, 0.0, view.width, view.height), &look);
    curves.place(&threads, point(view.x, view.y), "");
    let period = ground.colour_period(&"A B".parse().unwrap());
    let across = period.steps_across * layout.grid.step_x_mm();
    let down = period.down.unwrap().steps * layout.grid.step_y_mm();
    let pixels = |times: f64| {
        let mut pixels = curves.clone();
        let period = Size { width: times * across, height: down };
        pixels.groups.iter_mut().for_each(|group| group.repeating = Some(Repeating { view, period }));
        to_pdf(&[pixels]).unwrap()
    };
    let (whole, repeat) = (to_pdf(std::slice::from_ref(&curves)).unwrap(), pixels(1.0));
    assert!(4 * repeat.len() < whole.len(), "{} of {} bytes", repeat.len(), whole.len());
    let [Some(whole), Some(repeat), Some(wrong)] = [whole, repeat, pixels(0.6)].map(|pdf| by_poppler(&pdf))
    else {
        return;
    };
    // Averaged over places of 6 by 6 pixels, half a millimetre, so that edges drawn finer or
    // coarser count little and a shift counts much.
    let apart = |other: &Rendered| {
        let places = |picture: &Rendered| -> Vec<f64> {
            let (across, down) = (picture.width / 6, picture.height / 6);
            let mean = |x: usize, y: usize| {
                let own = (0..36).map(|k| picture.darkness[(6 * y + k / 6) * picture.width + 6 * x + k % 6]);
                own.sum::<f64>() / 36.0
            };
            (0..down).flat_map(|y| (0..across).map(move |x| (x, y))).map(|(x, y)| mean(x, y)).collect()
        };
        let (here, there) = (places(&whole), places(other));
        255.0 * here.iter().zip(&there).map(|(a, b)| (a - b).abs()).sum::<f64>() / here.len() as f64
    };
    let (repeat, wrong) = (apart(&repeat), apart(&wrong));
    assert!(repeat <= 4.0 && wrong > 8.0, "{repeat} {wrong}");
}
