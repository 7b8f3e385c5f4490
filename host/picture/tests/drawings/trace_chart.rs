//! The painted trace chart.

use picture::colour::{Rgb, rgb};
use picture::drawing::trace_chart::{GREY, TraceChartLook, draw_trace_chart};
use picture::drawing::{Drawing, Shape};
use picture::export::raster::rasterise;

/// Where the first row of a chart begins.
fn corner(drawing: &Drawing) -> [f64; 2] {
    let group = drawing.groups.iter().find(|group| group.id == "rows").expect("the group of the rows");
    let Some(Shape::Path { path, .. }) = group.shapes.first() else { panic!("lines at the rows") };
    let bounds = path.bounds().expect("lines at the rows");
    [bounds.x, bounds.y]
}

#[test]
fn a_pair_that_leaves_at_one_side_comes_in_at_the_other() {
    let red = rgb(200, 0, 0);
    let look = TraceChartLook {
        colours: vec![[red; 2], [Rgb::BLACK; 2]],
        shown: vec![true, false],
        footsides: false,
        step: 10.0,
    };
    let drawing = draw_trace_chart(&[vec![0, 1], vec![1, 1], vec![2, 1]], &look);
    let [left, top] = corner(&drawing);
    let image = rasterise(&drawing, 2.0);
    let at = |place: f64, row: f64| {
        let x = 2.0 * (left + (place + 0.5) * 10.0);
        let [r, g, b, _] = image.pixel(x as u32, (2.0 * (top + row * 10.0)) as u32 - 1);
        rgb(r, g, b)
    };
    let is_red = |colour: Rgb| colour.r > 150 && colour.g < 60;
    assert!(is_red(at(0.5, 0.5)) && is_red(at(1.45, 1.45)), "it goes to the right");
    assert!(is_red(at(-0.45, 1.55)), "and comes in at the left");
    assert!(is_red(at(1.0, 1.0)), "what is shown lies over what is not");
    assert_eq!(at(1.0, 0.3), GREY);
}
