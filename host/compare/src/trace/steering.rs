//! What to change so that a pair goes where it should.

use std::sync::Arc;

use catalogue::{Change, Chosen};
use lace::{Arrangement, Ground, PlacedStitch, StitchChange, Travel};
use picture::export::image::Image;
use picture::page::contact_sheet::{Heading, LineCell, Section, SectionedSheet};

use super::{USUAL_PAIRS, check_pairs};
use crate::error::Error;
use crate::palette::Palette;
use crate::scale::Scale;
use crate::thumbnail::Thumbnail;

/// Most changes returned of each kind.
const MOST_FOUND: usize = 6;
/// Most settings of one choice, and of two, that are tried.
const MOST_TRIED: usize = 3000;
/// Side of one picture, in pixels.
const PX: u32 = 240;
/// Greatest width and height of the whole picture, in pixels; always enough.
const PAGE: u32 = 5000;

/// Which pair to steer, and where.
#[derive(Clone, Debug)]
pub struct SteeringRequest {
    /// The ground.
    pub chosen: Chosen,
    /// The arrangement of its pairs, for the picture.
    pub arrangement: Arrangement,
    /// The colours to paint.
    pub palette: Palette,
    /// Pin spacing and thread, for the picture.
    pub scale: Scale,
    /// The pair, counted from 1 at the left.
    pub pair: usize,
    /// Where it should go.
    pub wish: Travel,
    /// Longest stitch to try, in moves.
    pub longest: usize,
}

/// The changes found.
#[derive(Clone, Debug)]
pub struct Steering {
    /// The request.
    pub request: SteeringRequest,
    /// Where the pair goes now; `None` if its two threads go different ways.
    pub now: Option<Travel>,
    /// Settings of one choice that steer the pair; of two, if no single choice
    /// does.
    pub by_choices: Vec<ChoiceChange>,
    /// Whether all settings of one or two choices were tried.
    pub all_tried: bool,
    /// Changes of a single stitch, those with fewest changed moves first.
    pub by_stitch: Vec<StitchChange>,
}

/// Changed choices.
#[derive(Clone, Debug)]
pub struct ChoiceChange {
    /// The choices, one or two, with their values.
    pub choices: Vec<Change>,
    ground: Arc<Ground>,
}

impl Steering {
    /// Looks for changes. `step` is called for every setting of two choices
    /// tried, with the total number.
    ///
    /// # Errors
    /// A pair that does not exist.
    pub fn new(request: SteeringRequest, step: &dyn Fn(usize)) -> Result<Steering, Error> {
        let ground = &request.chosen.ground;
        let own = ground.hanging().pairs().len();
        check_pairs(&[request.pair], USUAL_PAIRS.max(own).max(request.arrangement.pairs().len()))?;
        let pair = (request.pair - 1) % own;
        let now = ground.travel_of_pair(pair);
        if now == Some(request.wish) {
            let (by_choices, by_stitch) = (Vec::new(), Vec::new());
            return Ok(Steering { request, now, by_choices, all_tried: true, by_stitch });
        }
        let (by_choices, all_tried) = by_choices(&request.chosen, pair, request.wish, step);
        let mut by_stitch = ground.steering_changes(pair, request.wish, request.longest);
        by_stitch.truncate(MOST_FOUND);
        Ok(Steering { request, now, by_choices, all_tried, by_stitch })
    }

    /// The stitch that a change replaces, as it is now.
    pub fn placed(&self, change: &StitchChange) -> &PlacedStitch {
        &self.request.chosen.ground.stitches()[change.position]
    }

    /// The same in words.
    pub fn placed_in_words(&self, change: &StitchChange) -> String {
        self.request.chosen.ground.stitch_in_words(change.position)
    }

    /// Whether the pair already goes where it should.
    pub fn is_so_already(&self) -> bool {
        self.now == Some(self.request.wish)
    }

    /// The ground as it is and with each change, side by side. `written` formats
    /// a choice.
    ///
    /// # Errors
    /// A ground that cannot be pricked.
    pub fn picture(&self, written: impl Fn(&Change) -> String) -> Result<SteeringPicture, Error> {
        let SteeringRequest { chosen, arrangement, palette, scale, pair, .. } = &self.request;
        let palette = &palette.clone().behind([arrangement]);
        let shown = scale.showing([chosen.about()]);
        let side = shown.window_for(&chosen.ground, &scale.grid(chosen.about())?, [arrangement]);
        let thumbnail = |ground: &Ground| -> Result<Thumbnail, Error> {
            let layout = scale.lay_out_as(ground, chosen.about())?;
            Ok(Thumbnail::new(ground, layout, side, PX))
        };
        let by_choices = self.by_choices.iter().map(|change| &*change.ground);
        let changed: Vec<&Ground> =
            by_choices.chain(self.by_stitch.iter().map(|change| &change.ground)).collect();
        let drawn: Vec<Thumbnail> = std::iter::once(&*chosen.ground)
            .chain(changed.iter().copied())
            .map(thumbnail)
            .collect::<Result<_, Error>>()?;
        let heading = Heading {
            title: format!("Ways to steer pair {pair} of {}", chosen.title()),
            subtitle: format!(
                "Hang on {arrangement}, repeating. {}.",
                scale.spacing_in_words(chosen.about())
            ),
            palette: palette.swatches(),
            side: PX,
            caption_lines: 3,
        };
        let mut sections = vec![Section { title: "As it is".to_owned(), cells: 1 }];
        if !changed.is_empty() {
            sections.push(Section { title: "Changed".to_owned(), cells: changed.len() });
        }
        let sheet = SectionedSheet { heading: &heading, sections };
        // Few enough for one page.
        let part: Vec<_> = sheet.pages(PAGE).into_iter().flatten().collect();
        let captions = self.captions(written);
        let mut page =
            sheet.page(PAGE, &part, None, |cell| match cell.checked_sub(1).map(|k| &captions[k]) {
                None => vec![vec![chosen.title().to_owned()], Vec::new(), Vec::new()],
                Some([what, instead]) => {
                    vec![vec![format!("Change {cell}")], vec![what.clone()], vec![instead.clone()]]
                }
            });
        for line in page.lines() {
            for LineCell { number, left } in line.cells {
                drawn[number].paint_into(arrangement, palette, &mut line.pixels[left..], line.stride);
            }
        }
        let image = page.into_image();
        Ok(SteeringPicture { image, pictures: drawn.len(), px_per_mm: f64::from(PX) / side })
    }

    /// Each change in two short lines.
    fn captions(&self, written: impl Fn(&Change) -> String) -> Vec<[String; 2]> {
        let choices = self.by_choices.iter().map(|change| {
            let words: Vec<String> = change.choices.iter().map(&written).collect();
            [0, 1].map(|k| words.get(k).cloned().unwrap_or_default())
        });
        let stitches = self.by_stitch.iter().map(|change| {
            let PlacedStitch { id, stitch, .. } = self.placed(change);
            let now = stitch.letters().unwrap_or_else(|| self.placed_in_words(change));
            [format!("{id}: {}", change.stitch), format!("instead of {now}")]
        });
        choices.chain(stitches).collect()
    }
}

/// Changes side by side.
#[derive(Clone, Debug)]
pub struct SteeringPicture {
    /// The picture.
    pub image: Image,
    /// Number of grounds shown.
    pub pictures: usize,
    /// Pixels per millimetre of lace.
    pub px_per_mm: f64,
}

/// Settings of one choice, or of two if one is not enough, that steer the pair;
/// and whether all were tried.
fn by_choices(chosen: &Chosen, pair: usize, wish: Travel, step: &dyn Fn(usize)) -> (Vec<ChoiceChange>, bool) {
    let now: Vec<Change> = chosen.settings.iter().map(|(id, value)| Change::new(id, value)).collect();
    let attempt = |choices: &[Change]| -> Option<ChoiceChange> {
        // Of two changes of the same choice the later counts.
        let all = [now.as_slice(), choices].concat();
        let ground = chosen.entry.choose(Some(&chosen.variety), &all).ok()?.ground;
        let steers = ground.travel_of_pair(pair) == Some(wish);
        steers.then(|| ChoiceChange { choices: choices.to_vec(), ground })
    };
    let (single, mut all_tried) = first(single_changes(chosen));
    let mut found: Vec<ChoiceChange> =
        single.iter().filter_map(|change| attempt(std::slice::from_ref(change))).collect();
    if found.is_empty() {
        let pairs = single.iter().enumerate().flat_map(|(k, a)| single[k + 1..].iter().map(move |b| [a, b]));
        let of_two_choices = pairs.filter(|[a, b]| a.choice != b.choice);
        let (two, these_all) = first(of_two_choices.map(|two| two.map(Change::clone)));
        all_tried &= these_all;
        found.extend(two.iter().filter_map(|choices| {
            step(two.len());
            attempt(choices)
        }));
    }
    found.truncate(MOST_FOUND);
    (found, all_tried)
}

/// As many settings as are tried, and whether that is all of them.
fn first<T>(mut settings: impl Iterator<Item = T>) -> (Vec<T>, bool) {
    let tried = settings.by_ref().take(MOST_TRIED).collect();
    (tried, settings.next().is_none())
}

/// Every other value of every choice.
fn single_changes(chosen: &Chosen) -> impl Iterator<Item = Change> {
    chosen.about().choices.iter().flat_map(move |(id, choice)| {
        let others = choice.range.values().filter(move |value| chosen.settings.get(id) != Some(value));
        others.map(move |value| Change::new(id, value))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::{chosen, chosen_with};
    use crate::scale::Pricking;
    use catalogue::{Choice, Range, Value};
    use lace::samples::torchon;

    fn request(wish: Travel) -> SteeringRequest {
        let palette = Palette::default();
        SteeringRequest {
            chosen: chosen("Torchon", torchon("CT pin CT", 0)),
            arrangement: palette.arrangement("A A B B").unwrap(),
            palette,
            scale: Scale::new(Pricking::default(), None).unwrap(),
            pair: 1,
            wish,
            longest: 6,
        }
    }

    // Common practice, no source: half stitch, pin, half stitch sends a pair
    // across; cloth stitch and twist either side of the pin keeps it.
    #[test]
    fn stitches_are_found_that_steer_a_pair() {
        let steering = Steering::new(request(Travel::Stays), &|_| ()).unwrap();
        assert_eq!((steering.now, steering.is_so_already()), (Some(Travel::Left), false));
        assert!(steering.by_choices.is_empty() && steering.all_tried, "there are no choices");
        assert!(!steering.by_stitch.is_empty() && steering.by_stitch.len() <= MOST_FOUND);
        for change in &steering.by_stitch {
            assert_eq!(change.ground.travel_of_pair(0), Some(Travel::Stays), "{}", change.stitch);
            assert_eq!(steering.placed(change).stitch.to_string(), "CT pin CT");
        }
        assert_eq!(steering.picture(|_| String::new()).unwrap().pictures, 1 + steering.by_stitch.len());
    }

    #[test]
    fn of_very_many_settings_not_all_are_tried() {
        let any_number = Choice {
            title: "Number".to_owned(),
            range: Range::Count { least: i32::MIN, most: i32::MAX },
            default: Value::Count(0),
        };
        let choices = [("number".to_owned(), any_number)].into_iter().collect();
        let chosen = chosen_with("Torchon", choices, torchon("CT pin CT", 0));
        let steering = Steering::new(SteeringRequest { chosen, ..request(Travel::Stays) }, &|_| ()).unwrap();
        assert!(steering.by_choices.is_empty() && !steering.all_tried);
    }

    #[test]
    fn nothing_is_looked_for_where_a_pair_goes_so_or_is_not_there() {
        let already = Steering::new(request(Travel::Left), &|_| ()).unwrap();
        assert!(already.is_so_already() && already.by_stitch.is_empty());
        let wrong = SteeringRequest { pair: 9, ..request(Travel::Left) };
        assert_eq!(Steering::new(wrong, &|_| ()).unwrap_err(), Error::NoSuchPair { pair: 9, places: 8 });
    }
}
