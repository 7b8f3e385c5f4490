//! The thread drawing checked against the moves of its ground.

use crate::common::{grounds, laid_out, rose, torchon};
use lace::{Cell, CrossingSource, Ground, Point, Side, ThreadEntry, point};
use picture::colour::{Rgb, rgb};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::{Background, Drawing, Ink, Path, Shape, Step, rect};
use picture::export::raster::rasterise;
use picture::export::stencil::Stencil;
use picture::layout::Layout;

fn colours(count: usize) -> Vec<Rgb> {
    (0..count).map(|k| rgb((37 * k % 256) as u8, (91 * k % 256) as u8, (151 * k % 256) as u8)).collect()
}

/// The closed lines of a path, each curve as eight chords.
fn flattened(path: &Path) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for step in &path.steps {
        match *step {
            Step::Move(p) => lines.push(vec![p]),
            Step::Line(p) => lines.last_mut().unwrap().push(p),
            Step::Curve(b, c, d) => {
                let line = lines.last_mut().unwrap();
                let a = *line.last().unwrap();
                for k in 1..=8 {
                    let t = f64::from(k) / 8.0;
                    let u = 1.0 - t;
                    line.push(
                        a * (u * u * u) + b * (3.0 * u * u * t) + c * (3.0 * u * t * t) + d * (t * t * t),
                    );
                }
            }
            Step::Close => {}
        }
    }
    lines
}

fn inside(p: Point, line: &[Point]) -> bool {
    let mut winding = 0;
    for k in 0..line.len() {
        let (a, b) = (line[k], line[(k + 1) % line.len()]);
        let left = (b.x - a.x) * (p.y - a.y) - (p.x - a.x) * (b.y - a.y);
        if a.y <= p.y && b.y > p.y && left > 0.0 {
            winding += 1;
        } else if a.y > p.y && b.y <= p.y && left < 0.0 {
            winding -= 1;
        }
    }
    winding != 0
}

/// All areas painted in thread colours, lowest first.
fn painted(drawing: &Drawing) -> Vec<(usize, Vec<Point>)> {
    let mut areas = Vec::new();
    for shape in drawing.shapes() {
        if let Shape::Path { path, fill: Some(paint), .. } = shape
            && let Ink::Thread { class, .. } = paint.ink
        {
            areas.extend(flattened(path).into_iter().map(|line| (class, line)));
        }
    }
    areas
}

/// The slots at the top of the upper and lower thread at every crossing, from the
/// moves of the stitches and the twists of the legs alone.
fn by_the_moves(ground: &Ground, node: usize, cell: Cell) -> (i64, i64) {
    let braid = ground.braid();
    let upright = ground.upright().to_upright(cell);
    let slot =
        |stitch: usize, entry: usize| ground.hanging().origin(ThreadEntry::new(stitch, entry), upright);
    match braid.nodes[node].source {
        CrossingSource::Stitch(s) => {
            let mut order = [0, 1, 2, 3];
            for (k, c) in ground.stitches()[s].stitch.crossings().enumerate() {
                if braid.stitch_nodes[s] + k == node {
                    let (left, right) = (slot(s, order[c.at]), slot(s, order[c.at + 1]));
                    return if c.left_over { (left, right) } else { (right, left) };
                }
                order.swap(c.at, c.at + 1);
            }
            unreachable!("the node is one of the stitch's crossings")
        }
        CrossingSource::Leg(l) => {
            let from = ground.legs()[l].from;
            let first = if from.side == Side::Left { 0 } else { 2 };
            let order = ground.stitches()[from.stitch].stitch.end_order();
            let pair = [order[first], order[first + 1]].map(|entry| slot(from.stitch, entry));
            // Every twist lays right over left, so the two threads alternate.
            let k = braid.nodes[node].order % 2;
            (pair[1 - k], pair[k])
        }
    }
}

fn draw(ground: &Ground, layout: &Layout, classes: usize, style: Style) -> (Drawing, Point) {
    let at = point(-7.0, 3.0);
    let look = ThreadLook { style, ..ThreadLook::new(colours(classes), 20.0) };
    (draw_threads(ground, layout, rect(at.x, at.y, 14.0, 14.0), &look), at)
}

#[test]
fn threads_are_drawn_over_and_under_as_the_moves_say() {
    for (name, ground) in grounds() {
        let layout = laid_out(&ground);
        let classes = 16 * ground.hanging().pairs().len();
        for style in [Style::Shaded, Style::Plain] {
            let (drawing, at) = draw(&ground, &layout, classes, style);
            let areas = painted(&drawing);
            let mut seen = 0;
            for i in -8..=8 {
                for j in -8..=8 {
                    let step = layout.lattice.place(Cell::new(i, j));
                    for (node, &place) in layout.nodes.iter().enumerate() {
                        let p = place + step - at;
                        if !(0.0..=14.0).contains(&p.x) || !(0.0..=14.0).contains(&p.y) {
                            continue;
                        }
                        let here: Vec<usize> = areas
                            .iter()
                            .filter(|(_, line)| inside(p, line))
                            .map(|(class, _)| *class)
                            .collect();
                        let (over, under) = by_the_moves(&ground, node, Cell::new(i, j));
                        let class = |slot: i64| slot.rem_euclid(classes as i64) as usize;
                        assert_eq!(here.last(), Some(&class(over)), "{name}: crossing {node} in {i}, {j}");
                        assert!(here.contains(&class(under)), "{name}: the thread below is drawn too");
                        seen += 1;
                    }
                }
            }
            assert!(seen >= layout.nodes.len(), "{name}: {seen} crossings seen");
        }
    }
}

#[test]
fn a_window_one_repeat_further_shows_the_same_threads_in_other_colours() {
    for ground in [torchon("CT pin CT", 1), rose("CTCT", "CT pin CT")] {
        let layout = laid_out(&ground);
        let width = 2 * ground.hanging().pairs().len();
        // One upright repeat to the right, each thread hangs `width` slots later.
        let classes = 2 * width;
        let step = ground.upright().width() * layout.grid.step_x_mm();
        let look = ThreadLook::new(colours(classes), 8.0);
        let first = draw_threads(&ground, &layout, rect(1.0, 2.0, 12.0, 12.0), &look);
        let second = draw_threads(&ground, &layout, rect(1.0 + step, 2.0, 12.0, 12.0), &look);
        let turned: Vec<Rgb> = (0..classes).map(|k| look.colours[(k + width) % classes]).collect();
        let one = rasterise(&second, 8.0);
        let other = rasterise(&Drawing { colours: turned, ..first }, 8.0);
        // Where the edges of two threads share a pixel, the same one of them is painted
        // last in every repeat, so that no pixel differs by more than a rounding.
        let apart: Vec<u8> = one
            .pixels()
            .iter()
            .zip(other.pixels())
            .map(|(a, b)| (0..4).map(|k| a[k].abs_diff(b[k])).max().unwrap())
            .collect();
        let count = apart.len() as f64;
        let mean = apart.iter().map(|&d| f64::from(d)).sum::<f64>() / count;
        let far = apart.iter().filter(|&&d| d > 2).count();
        assert!(mean < 0.05 && far == 0, "{mean}, {far} of {count}");
    }
}

#[test]
fn a_painted_stencil_matches_the_drawing() {
    for (name, ground) in grounds() {
        let layout = laid_out(&ground);
        let linen = Background::Colour(Rgb::LINEN);
        for (px_per_mm, background) in [(4.0, linen), (9.0, linen), (9.0, Background::Transparent)] {
            let look = ThreadLook { background, pins: true, ..ThreadLook::new(colours(8), px_per_mm) };
            let mut drawing = draw_threads(&ground, &layout, rect(0.0, 0.0, 12.0, 10.0), &look);
            let stencil = Stencil::new(&drawing, px_per_mm);
            for turn in 0..3 {
                drawing.colours.rotate_left(turn);
                let drawn = rasterise(&drawing, px_per_mm);
                let painted = stencil.paint(&drawing.colours);
                let apart = drawn.pixels().iter().zip(painted.pixels()).map(|(a, b)| {
                    // The visible difference: colour times alpha.
                    let seen = |p: &[u8; 4], k: usize| i32::from(p[k]) * i32::from(p[3]) / 255;
                    let colour = (0..3).map(|k| (seen(a, k) - seen(b, k)).abs()).max().unwrap();
                    colour.max((i32::from(a[3]) - i32::from(b[3])).abs())
                });
                // Every layer of paint is rounded to 8 bits in the drawing.
                let worst = apart.max().unwrap();
                assert!(worst <= 3, "{name} at {px_per_mm}: {worst}");
            }
        }
    }
}

#[test]
fn no_colours_still_draw() {
    let ground = torchon("CT pin CT", 0);
    let layout = laid_out(&ground);
    let drawing = draw_threads(&ground, &layout, rect(0.0, 0.0, 5.0, 5.0), &ThreadLook::new(Vec::new(), 4.0));
    assert_eq!(drawing.colours, [Rgb::BLACK]);
    assert!(drawing.shapes().count() > 0);
}
