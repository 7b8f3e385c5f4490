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
