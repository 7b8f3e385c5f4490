//! Contact sheets: many pictures of one size on a page, with heads that identify
//! each picture by words, letters and hanging bobbins.
//!
//! A page is made with its heads and captions and blank pictures. The caller
//! paints the pictures straight into it, line by line, on all processors.

mod bobbins;
mod lettering;
mod page;
mod sections;
mod table;

use lace::{colour_letter, point};

use crate::colour::{Rgb, Tone};
use crate::drawing::font;
use crate::drawing::{Anchor, Drawing, Face, Group, Paint, Path, Shape, Stroke, Text};

pub use page::{Line, LineCell, Page};
pub use sections::{Section, SectionPart, SectionedSheet};
pub use table::{Column, RowHead, Table, TablePage};

use lettering::write;

/// Colour of the paper.
const PAPER: Rgb = Rgb { r: 250, g: 246, b: 238 };
/// Colour of less important text.
const QUIET: Rgb = Rgb { r: 96, g: 86, b: 74 };
/// Space between pictures and round the sheet, pixels.
const GAP: f64 = 8.0;
const MARGIN: f64 = 20.0;

/// The head of every page, and the size of the pictures.
#[derive(Clone, Debug)]
pub struct Heading {
    /// What the sheet shows.
    pub title: String,
    /// A subtitle.
    pub subtitle: String,
    /// The colour of each letter, A first.
    pub palette: Vec<NamedColour>,
    /// Width and height of each picture, pixels.
    pub side: u32,
    /// Lines of text below each picture.
    pub caption_lines: usize,
}

/// A colour of the palette.
#[derive(Clone, Debug)]
pub struct NamedColour {
    /// Itself.
    pub colour: Rgb,
    /// Its name.
    pub name: String,
}

/// The possible wordings of a line of a caption, the fullest first. The first
/// that fits is written; if none does, the last is cut short.
pub type Wordings = Vec<String>;

/// Sizes of letters and spaces in pixels. They grow with the pictures, within
/// limits.
#[derive(Clone, Copy, Debug)]
struct Sizes {
    side: f64,
    large: f64,
    small: f64,
    caption: f64,
    caption_lines: usize,
}

impl Sizes {
    /// Height of a line of a caption, whole pixels.
    fn caption_line(&self) -> f64 {
        (1.35 * self.caption).ceil()
    }

    /// Distance from one line of pictures to the next.
    fn pitch(&self) -> f64 {
        let caption =
            if self.caption_lines > 0 { self.caption_lines as f64 * self.caption_line() + 2.0 } else { 0.0 };
        self.side + caption + GAP
    }
}

/// The head of a page, laid out for a width.
struct Head {
    group: Group,
    /// Where the content below it begins.
    bottom: f64,
}

impl Heading {
    fn sizes(&self) -> Sizes {
        let side = f64::from(self.side);
        let large = (side / 9.0).clamp(12.0, 20.0);
        Sizes {
            side,
            large,
            small: (large * 0.78).max(10.5),
            caption: (side * 0.075).clamp(10.0, 14.0),
            caption_lines: self.caption_lines,
        }
    }

    /// Title, subtitle, colours, and which page it is.
    fn head(&self, width: f64, which: Option<&str>) -> Head {
        let Sizes { large, small, .. } = self.sizes();
        let mut group = Group::new("heads");
        let room = width - 2.0 * MARGIN;
        let mut title_room = room;
        let base = MARGIN + 1.2 * large;
        if let Some(which) = which {
            let wide = font::width(which, small, Face::Regular);
            write(
                &mut group,
                point(width - MARGIN - wide, base),
                small,
                which,
                Face::Regular,
                QUIET,
                wide + 1.0,
            );
            title_room -= wide + 2.0 * small;
        }
        write(
            &mut group,
            point(MARGIN, base),
            1.4 * large,
            &self.title,
            Face::Semibold,
            Rgb::INK,
            title_room,
        );
        let mut y = MARGIN + 1.4 * large + 0.2 * small;
        for line in font::wrapped(&self.subtitle, small, Face::Regular, room) {
            y += 1.3 * small;
            write(&mut group, point(MARGIN, y), small, &line, Face::Regular, QUIET, room);
        }
        y = self.letters(&mut group, y + 1.7 * small, room);
        Head { group, bottom: (y + 0.6 * small + GAP).ceil() }
    }

    /// The letters with their colours and names, line by line from a baseline.
    /// Returns the last baseline.
    fn letters(&self, group: &mut Group, mut y: f64, room: f64) -> f64 {
        let small = self.sizes().small;
        let mut x = MARGIN;
        for (class, NamedColour { name, .. }) in self.palette.iter().enumerate() {
            let words = format!("{} {name}", colour_letter(class as u8));
            let wide = 1.2 * small + font::width(&words, small, Face::Regular);
            if x > MARGIN && x + wide > MARGIN + room {
                x = MARGIN;
                y += 1.5 * small;
            }
            let dot = Path::circle(point(x + 0.45 * small, y - 0.35 * small), 0.42 * small);
            group.shapes.push(Shape::Path {
                path: dot,
                fill: Some(Paint::thread(class, Tone::PLAIN)),
                stroke: Some(Stroke::new(QUIET, 0.8)),
            });
            group.shapes.push(Shape::Text(Text {
                at: point(x + 1.2 * small, y),
                size: small,
                words,
                anchor: Anchor::Start,
                face: Face::Regular,
                paint: QUIET.into(),
            }));
            x += wide + 1.4 * small;
        }
        y
    }

    /// A blank sheet, one unit per pixel so that pictures fall on whole pixels.
    fn paper(&self, width: f64, height: f64) -> Drawing {
        let mut drawing = Drawing::new(width.ceil(), height.ceil(), self.title.clone());
        drawing.background = PAPER.into();
        drawing.colours = self.palette.iter().map(|named| named.colour).collect();
        drawing
    }
}

/// Splits `all` things into the fewest even portions of at most `most`.
fn portions(all: usize, most: usize) -> Vec<std::ops::Range<usize>> {
    let pages = all.div_ceil(most.max(1)).max(1);
    let each = all.div_ceil(pages).max(1);
    (0..pages).map(|p| (p * each).min(all)..((p + 1) * each).min(all)).collect()
}

/// How many things of one size fit with gaps between them.
fn fitting(room: f64, size: f64, gap: f64) -> usize {
    ((room + gap) / (size + gap)).floor().max(1.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn portions_are_even_and_cover_everything() {
        assert_eq!(portions(90, 85), [0..45, 45..90]);
        assert_eq!(portions(7, 3), [0..3, 3..6, 6..7]);
        assert_eq!(portions(3, 10), vec![0..3; 1]);
        assert_eq!(fitting(100.0, 48.0, 8.0), 1);
        assert_eq!(fitting(104.0, 48.0, 8.0), 2);
    }

    fn named(colour: Rgb, name: &str) -> NamedColour {
        NamedColour { colour, name: name.to_owned() }
    }

    /// Whether a rectangle of a page has anything but paper.
    fn inked(page: &crate::export::image::Image, x: std::ops::Range<u32>, y: std::ops::Range<u32>) -> bool {
        let paper = [PAPER.r, PAPER.g, PAPER.b, 255];
        y.into_iter().any(|y| x.clone().any(|x| page.pixel(x, y) != paper))
    }

    #[test]
    fn places_for_pictures_are_blank_with_text_around_them() {
        let heading = Heading {
            title: "Some grounds".into(),
            subtitle: "Many words that will have to be broken into several lines ".repeat(5),
            palette: vec![named(Rgb::BLACK, "black"), named(Rgb::WHITE, "white")],
            side: 64,
            caption_lines: 1,
        };
        let column = |text: &str| Column { arrangement: text.parse().unwrap(), name: Some("2-and-2".into()) };
        let table = Table {
            heading: &heading,
            columns: vec![column("A A B B"), column("4A 4B"), column("A B")],
            rows: vec![
                RowHead { label: "A ground with a long name".into(), notes: vec!["a note".into()] };
                3
            ],
        };
        let parts = table.pages(400);
        assert_eq!(parts.len(), 4, "{parts:?}");
        for (k, part) in parts.iter().enumerate() {
            let which = format!("page {} of {}", k + 1, parts.len());
            let page = table.page(part, Some(&which), |_, _| vec![vec!["columns, 8 mm".to_owned()]]);
            let boxes = page.boxes().to_vec();
            assert_eq!(boxes.len(), part.rows.len() * part.columns.len());
            let image = page.into_image();
            assert!(image.width() <= 400 && image.height() <= 400);
            for [x, y] in boxes {
                assert!(!inked(&image, x..x + 64, y..y + 64), "a picture's place is blank");
                assert!(inked(&image, x..x + 64, y + 64..y + 64 + 18), "a caption below");
                assert!(x + 64 <= image.width() && y + 64 + 18 <= image.height());
            }
            assert!(inked(&image, image.width() - 80..image.width() - 20, 10..40), "which page it is");
        }
    }

    #[test]
    fn a_sheet_keeps_sections_together_and_repeats_their_heads() {
        let heading = Heading {
            title: "Cells".into(),
            subtitle: "By pattern".into(),
            palette: vec![named(Rgb::BLACK, "black")],
            side: 64,
            caption_lines: 2,
        };
        let sections = vec![
            Section { title: "Columns".into(), cells: 3 },
            Section { title: "Checks".into(), cells: 40 },
        ];
        let sheet = SectionedSheet { heading: &heading, sections };
        let pages = sheet.pages(500);
        assert!(pages.len() > 1);
        let cells: Vec<usize> = pages.iter().flatten().flat_map(|part| part.cells.clone()).collect();
        assert_eq!(cells, (0..43).collect::<Vec<_>>());
        assert!(pages[1][0].continued);
        for (k, part) in pages.iter().enumerate() {
            let page = sheet.page(500, part, Some(&format!("page {}", k + 1)), |cell| {
                vec![vec![format!("cell {cell}")], vec!["checks".to_owned()]]
            });
            assert_eq!(page.boxes().len(), part.iter().map(|p| p.cells.len()).sum::<usize>());
            for line in page.clone().lines().iter() {
                assert!(
                    line.cells.windows(2).all(|w| w[0].number + 1 == w[1].number && w[0].left < w[1].left)
                );
            }
            assert!(page.into_image().height() <= 500);
        }
    }
}
