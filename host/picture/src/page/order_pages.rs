//! The order of working on pages of its own: the diagram with its numbers, and the
//! steps in columns below it, page after page.

use lace::{Grid, Ground, point};

use super::columns::{Columns, OrderInWords, Passage, Spacing};
use super::typography::GAP;
use crate::drawing::working_diagram::{DiagramFit, DiagramLook, WorkingDiagram};
use crate::drawing::{Background, Drawing, Rect, Size, rect};

/// Columns of steps side by side.
const COLUMNS: usize = 2;
/// Greatest part of a page that the diagram takes if the steps can begin below it.
const DIAGRAM: f64 = 0.7;

/// The pages of an order of working.
pub(super) struct OrderPages {
    /// The working diagram, for the first page.
    pub diagram: Drawing,
    /// Its place.
    pub view: Rect,
    /// The text of each page.
    pub text: Vec<Vec<Passage>>,
}

impl OrderPages {
    /// Sets the order of working of a ground into the body of each page.
    pub fn new(
        ground: &Ground,
        grid: &Grid,
        look: &DiagramLook,
        order: &OrderInWords,
        (spacing, body): (Spacing, Rect),
    ) -> OrderPages {
        let fit = |part: f64| {
            let room = Size { width: body.width, height: part * body.height };
            DiagramFit::whole(ground, grid, look.balanced, room)
        };
        // As large as it must be, on the whole page if it has to.
        let fit = Some(fit(DIAGRAM)).filter(|fit| fit.numbered).unwrap_or_else(|| fit(1.0));
        let view = rect(body.x, body.y, body.width, fit.height.min(body.height));
        let look = DiagramLook { background: Background::Transparent, numbers: true, ..look.clone() };
        let diagram = WorkingDiagram::new(ground, &fit.grid, look);
        let diagram = diagram.draw(diagram.window(Size { width: view.width, height: view.height }));
        let top = view.height + GAP / 2.0;
        let below = rect(body.x, body.y + top, body.width, (body.height - top).max(0.0));
        let mut columns = Columns::new(beside(below), spacing).running_on(beside(body));
        columns.order(order);
        let mut text = vec![Vec::new()];
        for passage in columns.into_passages() {
            text.resize_with(text.len().max(passage.column / COLUMNS + 1), Vec::new);
            text[passage.column / COLUMNS].push(passage);
        }
        OrderPages { diagram, view, text }
    }
}

/// Columns side by side in a rectangle.
fn beside(all: Rect) -> Vec<Rect> {
    let width = (all.width + GAP) / COLUMNS as f64 - GAP;
    let column = |k: usize| point(all.x + k as f64 * (width + GAP), all.y);
    (0..COLUMNS).map(column).map(|at| rect(at.x, at.y, width, all.height)).collect()
}

#[cfg(test)]
mod tests {
    use lace::samples::{rose, torchon};

    use super::*;
    use crate::drawing::tagged_page::Role;
    use crate::drawing::{Group, Shape, Text};

    fn texts<'a>(groups: impl IntoIterator<Item = &'a Group>) -> Vec<&'a Text> {
        let shapes = groups.into_iter().flat_map(|group| &group.shapes);
        shapes.filter_map(|shape| if let Shape::Text(text) = shape { Some(text) } else { None }).collect()
    }

    // 6 points are the least that is legible in print (common practice, no source).
    #[test]
    fn every_step_has_its_number_in_the_diagram_and_its_words_on_a_page() {
        let large = rose("CTCT", "CT pin CT").set_out(4, 4);
        for (repeat, pages) in [(torchon("CT pin CT", 0), 1), (large, 2)] {
            let ground = Ground::new(repeat).unwrap();
            let order = OrderInWords::of(&ground);
            let body = rect(12.0, 32.0, 186.0, 250.0);
            let grid = Grid::new(4.0, 45.0).unwrap();
            let look = DiagramLook::default();
            let set = OrderPages::new(&ground, &grid, &look, &order, (Spacing::SHEET, body));
            assert_eq!(set.text.len(), pages);
            let steps = ground.steps_in_words(&ground.order_of_working()).len();
            let expected: Vec<String> = (1..=steps).map(|number| number.to_string()).collect();
            let numbers = texts(set.diagram.groups.iter().filter(|group| group.id == "order-of-working"));
            assert_eq!(numbers.iter().map(|text| text.words.as_str()).collect::<Vec<_>>(), expected);
            assert!(texts(&set.diagram.groups).iter().all(|text| text.size * 72.0 / 25.4 >= 6.0));
            let items = set.text.iter().flatten().filter(|passage| passage.role == Role::Item);
            let first: Vec<&str> = items.map(|passage| texts(&passage.groups)[0].words.as_str()).collect();
            assert_eq!(first, expected);
            let lowest = |text: &&Text| text.at.y <= body.y + body.height;
            assert!(set.text.iter().flatten().all(|p| texts(&p.groups).iter().all(lowest)));
        }
    }
}
