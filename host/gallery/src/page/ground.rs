//! The page of one ground or filling.

use compare::note::Note;
use minijinja::value::Serde;
use minijinja::{Value, context};

use super::choices::{self, CHOICE_PX};
use super::explore::ExploredVariety;
use super::index::{Card, CardVariety, Neighbour};
use super::table::{self, Row};
use super::variety::{NameView, VarietyView};
use super::words::{family_in_words, kind};
use crate::GalleryError;
use crate::drawn_variety::DrawnVariety;
use crate::plan::{ShownGround, ShownVariety};
use crate::shared::Gallery;
use catalogue::Chosen;
use lace::number;

/// The parts of a ground that other pages show.
pub struct GroundParts {
    /// Its card in the index.
    pub card: Card,
    /// Its varieties, for the explore page.
    pub explored: Vec<ExploredVariety>,
    /// Its usual variety in every arrangement, by the title of the ground.
    pub row: Option<Row>,
    /// Notes for the user about its pictures.
    pub notes: Vec<Note>,
}

/// The parts of all grounds, grouped by page.
#[derive(Default)]
pub struct Collected {
    /// All cards.
    pub cards: Vec<Card>,
    /// All varieties for the explore page.
    pub explored: Vec<ExploredVariety>,
    /// All rows.
    pub rows: Vec<Row>,
    /// All notes.
    pub notes: Vec<Note>,
}

impl Collected {
    /// Collects the parts in order.
    pub fn new(parts: Vec<GroundParts>) -> Collected {
        let mut all = Collected::default();
        for ground in parts {
            all.cards.push(ground.card);
            all.explored.extend(ground.explored);
            all.rows.extend(ground.row);
            all.notes.extend(ground.notes);
        }
        all
    }
}

/// The varieties of a ground while its page is made.
#[derive(Default)]
struct Varieties<'a> {
    views: Vec<VarietyView>,
    in_card: Vec<CardVariety>,
    explored: Vec<ExploredVariety>,
    drawn: Vec<DrawnVariety<'a>>,
    notes: Vec<Note>,
}

/// Writes the page and pictures of a ground.
pub fn write<E: Send>(
    gallery: &Gallery<'_, E>,
    ground: &ShownGround,
) -> Result<GroundParts, GalleryError<E>> {
    let about = ground.about();
    let mut varieties = Varieties::default();
    for variety in &ground.varieties {
        varieties.add(gallery, ground, variety)?;
    }
    let Varieties { views, in_card, explored, drawn, notes } = varieties;
    let choices = match ground.usual() {
        Some(usual) => choices::views(gallery, usual, &drawn)?,
        None => Vec::new(),
    };
    let rows = table::rows(gallery, drawn)?;
    let sits_in = about
        .sits_in
        .as_ref()
        .map(|id| Neighbour { id: id.clone(), title: gallery.title_of(id).map(str::to_owned) });
    let path = format!("grounds/{}.html", about.id);
    let what = context! {
        about => context! {
            choices => Value::from(Serde(choices)),
            ..about_view(ground, sits_in.as_ref())
        },
        usual_title => ground.usual().map(Chosen::title),
        choice_px => CHOICE_PX,
        varieties => Value::from(Serde(views)),
        columns => table::columns(gallery.arrangements()),
        rows => Value::from(Serde(&rows)),
        cell_px => table::CELL_PX,
    };
    gallery.page(&path, "../", "ground.html", what)?;
    let row = rows.into_iter().next().map(|row| row.named(&about.title));
    Ok(GroundParts { card: Card::new(about, sits_in, in_card), explored, row, notes })
}

/// What the page says about the ground as a whole.
fn about_view(ground: &ShownGround, sits_in: Option<&Neighbour>) -> Value {
    let about = ground.about();
    context! {
        id => about.id.clone(),
        title => about.title.clone(),
        notes => about.notes.clone(),
        kind => kind(about),
        family => about.family.clone(),
        family_title => family_in_words(&about.family),
        laces => about.laces.clone(),
        sits_in => Value::from(Serde(sits_in.cloned())),
        angle => number(about.angle),
        pin_spacing => about.pin_spacing_mm.map(number),
        source => about.source.clone(),
        other_names => Value::from(Serde(NameView::all(&about.other_names))),
    }
}

impl<'a> Varieties<'a> {
    /// Draws a variety, if it can be worked.
    fn add<E: Send>(
        &mut self,
        gallery: &Gallery<'_, E>,
        ground: &'a ShownGround,
        variety: &'a ShownVariety,
    ) -> Result<(), GalleryError<E>> {
        let about = ground.about();
        let mut view = VarietyView::new(about, &variety.id);
        let (line, shows) = match &variety.chosen {
            Err(why) => {
                view.problem = Some(why.clone());
                ("cannot be worked".to_owned(), String::new())
            }
            Ok(chosen) => {
                let drawn = DrawnVariety::new(gallery, chosen)?;
                self.notes.extend(drawn.note());
                let large = drawn.write_pictures(gallery)?;
                view.fill(gallery, &drawn)?;
                self.explored.push(ExploredVariety::write(gallery, &drawn, &large)?);
                let words = (drawn.line(gallery), drawn.small.words());
                self.drawn.push(drawn);
                words
            }
        };
        self.in_card.push(CardVariety {
            id: variety.id.clone(),
            title: view.title.clone(),
            alt: view.alt.clone(),
            line: format!("{}; {line}", kind(about)),
            shows,
            drawn: variety.chosen.is_ok(),
        });
        self.views.push(view);
        Ok(())
    }
}
