//! A ground or filling written as a chart, and the component that holds one.
//!
//! A chart needs no compiler: it is data. This crate reads such data, so one
//! compiled component serves every chart. [`pack`] writes a chart into a slot
//! reserved in a copy of that component, which then answers `about` and `define`
//! from it.

use pairwise_sdk::{
    About, Contribution, Grid, Kind, OtherName, Problem, Repeat, Settings, Side, Variety, contribution,
};
use serde::{Deserialize, Serialize};

/// A chart with every name in it resolved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Chart {
    /// Plain word by which users name it.
    pub id: String,
    /// The title shown to the lacemaker.
    pub title: String,
    /// For a filling: the ground it sits in.
    pub sits_in: Option<String>,
    /// Family in which it is listed, a plain word.
    pub family: String,
    /// Names in the trade.
    pub names: Vec<Name>,
    /// Laces in which it is used.
    pub laces: Vec<String>,
    /// Degrees between the footside and the diagonal lines of pins.
    pub angle: f64,
    /// The usual distance between two footside pins, mm.
    pub pin_spacing: Option<f64>,
    /// Notes for the lacemaker.
    pub notes: String,
    /// Where the stitch order comes from.
    pub source: String,
    /// The choices.
    pub choices: Vec<Choice>,
    /// Named varieties, the usual one first.
    pub varieties: Vec<Named>,
    /// Step to the next repeat across, in grid steps.
    pub across: [f64; 2],
    /// Step to the next repeat down.
    pub down: [f64; 2],
    /// The stitches.
    pub stitches: Vec<Stitch>,
}

/// A name in the trade.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Name {
    /// Its language (BCP 47).
    pub language: String,
    /// The name.
    pub name: String,
    /// Where it is found.
    pub source: String,
}

/// A choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// Plain word.
    pub id: String,
    /// The title shown to the lacemaker.
    pub title: String,
    /// Its possible values.
    pub range: Range,
}

/// The possible values of a choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Range {
    /// Works; the first is the usual one.
    Works(Vec<Work>),
    /// A number from `least` to `most`.
    Count {
        /// The least.
        least: i32,
        /// The most.
        most: i32,
        /// The usual one.
        usual: i32,
    },
}

/// A work to choose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Work {
    /// Plain word.
    pub id: String,
    /// The title shown to the lacemaker.
    pub title: String,
    /// Moves, for example `CT`.
    pub moves: String,
}

/// A named variety.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Named {
    /// Plain word.
    pub id: String,
    /// The title shown to the lacemaker.
    pub title: String,
    /// Names in the trade.
    pub names: Vec<Name>,
    /// Notes on what is special about it.
    pub notes: String,
    /// Where its stitch order comes from; empty if the same as for the ground.
    pub source: String,
    /// Its settings: choice and value.
    pub set: Vec<(String, Set)>,
}

/// The value of a choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Set {
    /// An option.
    Option(String),
    /// A number.
    Count(i32),
}

/// One stitch of the repeat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stitch {
    /// Plain word.
    pub id: String,
    /// Where it is worked, in grid steps.
    pub at: [f64; 2],
    /// The work, part by part.
    pub work: Vec<Part>,
    /// How the left and right pair leave.
    pub exits: [Exit; 2],
}

/// A part of a work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Part {
    /// Moves, for example `CT`, or `pin`.
    Moves(String),
    /// The option set for the choice of this number.
    Chosen(u32),
}

/// How a pair leaves a stitch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Exit {
    /// Where it goes. `None` follows the grid.
    pub to: Option<Goal>,
    /// Extra twists on the way.
    pub twists: Twists,
}

/// Where a pair goes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Goal {
    /// The number of the stitch.
    pub stitch: u32,
    /// Whether it comes in on the right.
    pub right: bool,
    /// Where that stitch stands, in grid steps.
    pub at: [f64; 2],
}

/// A number of twists.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Twists {
    /// A fixed number.
    Count(u32),
    /// The number set for the choice of this number.
    Chosen(u32),
}

impl Chart {
    /// The description of the contribution.
    pub fn about(&self) -> About {
        let mut about = About::ground(&self.id, &self.title)
            .family(&self.family)
            .angle(self.angle)
            .notes(&self.notes)
            .source(&self.source);
        if let Some(ground) = &self.sits_in {
            about.kind = Kind::Filling;
            about.sits_in = Some(ground.clone());
        }
        about.pin_spacing = self.pin_spacing;
        about.laces.clone_from(&self.laces);
        about.other_names = self.names.iter().map(Name::to_other_name).collect();
        for choice in &self.choices {
            about = match &choice.range {
                Range::Works(options) => {
                    let options: Vec<(&str, &str, ())> =
                        options.iter().map(|work| (work.id.as_str(), work.title.as_str(), ())).collect();
                    about.choose(&choice.id, &choice.title, &options)
                }
                Range::Count { least, most, usual } => {
                    about.choose_count(&choice.id, &choice.title, *least..=*most, *usual)
                }
            };
        }
        self.varieties.iter().fold(about, |about, named| {
            let mut variety = Variety::new(&named.id, &named.title).notes(&named.notes).source(&named.source);
            variety.other_names = named.names.iter().map(Name::to_other_name).collect();
            let set = named.set.iter();
            about.variety(set.fold(variety, |variety, (choice, value)| match value {
                Set::Option(option) => variety.set(choice, option.as_str()),
                Set::Count(count) => variety.set(choice, *count),
            }))
        })
    }

    /// The repeat for these settings.
    ///
    /// # Errors
    /// As for [`Grid::repeat`], or a number that refers to no stitch or choice.
    pub fn define(&self, settings: &Settings) -> Result<Repeat, Problem> {
        let [across, down] = [self.across, self.down].map(|[x, y]| (x, y));
        let mut grid = Grid::new(across, down);
        for stitch in &self.stitches {
            let parts = stitch.work.iter().map(|part| self.moves(part, settings));
            let work = parts.collect::<Result<Vec<_>, _>>()?.join(" ");
            grid = grid.dot(&stitch.id, (stitch.at[0], stitch.at[1]), work);
        }
        for stitch in &self.stitches {
            for (exit, side) in stitch.exits.iter().zip([Side::Left, Side::Right]) {
                let from = (stitch.id.as_str(), side);
                if let Some(Goal { stitch, right, at: [x, y] }) = exit.to {
                    let to = self.stitches.get(stitch as usize);
                    let to = to.ok_or_else(|| Problem::new("no such stitch"))?;
                    let entry = if right { Side::Right } else { Side::Left };
                    grid = grid.leg(from, (&to.id, entry), (x, y));
                }
                let twists = match exit.twists {
                    Twists::Count(count) => i32::try_from(count).unwrap_or(i32::MAX),
                    Twists::Chosen(choice) => settings.count(&self.choice(choice)?.id)?,
                };
                grid = grid.twist(from, twists);
            }
        }
        grid.repeat()
    }

    fn choice(&self, number: u32) -> Result<&Choice, Problem> {
        self.choices.get(number as usize).ok_or_else(|| Problem::new("no such choice"))
    }

    fn moves<'a>(&'a self, part: &'a Part, settings: &Settings) -> Result<&'a str, Problem> {
        let choice = match part {
            Part::Moves(moves) => return Ok(moves),
            Part::Chosen(number) => self.choice(*number)?,
        };
        let Range::Works(options) = &choice.range else {
            return Err(
                Problem::new(format!("`{}` is a number, not a stitch", choice.id)).because_of(&choice.id)
            );
        };
        let chosen = settings.named(&choice.id)?;
        let option = options.iter().find(|work| work.id == chosen);
        option
            .map(|work| work.moves.as_str())
            .ok_or_else(|| Problem::new(format!("`{}` has no option `{chosen}`", choice.id)))
    }
}

impl Name {
    fn to_other_name(&self) -> OtherName {
        OtherName { language: self.language.clone(), name: self.name.clone(), source: self.source.clone() }
    }
}

/// Most bytes that a packed chart may take.
pub const ROOM: usize = 96 << 10;
/// The mark at the start of the slot for a chart. It must occur in the component
/// only once, so nothing else contains all of it.
const MARK: [&[u8]; 3] = [b"pairwise", b"-chart-s", b"tand-in:"];
const MARK_BYTES: usize = 24;
const LENGTH_BYTES: usize = 4;

/// The slot for a chart: the mark, the number of bytes, the bytes.
static PLACE: [u8; MARK_BYTES + LENGTH_BYTES + ROOM] = {
    let mut place = [0; MARK_BYTES + LENGTH_BYTES + ROOM];
    let mut k = 0;
    while k < MARK_BYTES {
        place[k] = MARK[k / 8][k % 8];
        k += 1;
    }
    place
};

/// Why a chart cannot be packed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PackError {
    /// The chart takes this many bytes, more than [`ROOM`].
    TooLarge(usize),
    /// The bytes are not this compiled crate.
    NoPlace,
}

/// A copy of `component` (this compiled crate) that holds `chart`.
///
/// # Errors
/// [`PackError::TooLarge`]; [`PackError::NoPlace`] when `component` has no slot
/// for a chart, or several.
pub fn pack(component: &[u8], chart: &Chart) -> Result<Vec<u8>, PackError> {
    // Fails only for types that postcard cannot write.
    let bytes = postcard::to_stdvec(chart).map_err(|_| PackError::TooLarge(usize::MAX))?;
    if bytes.len() > ROOM {
        return Err(PackError::TooLarge(bytes.len()));
    }
    let mark = MARK.concat();
    let mut places = component.windows(MARK_BYTES).enumerate().filter(|(_, window)| *window == mark);
    let (Some((mark, _)), None) = (places.next(), places.next()) else { return Err(PackError::NoPlace) };
    let at = mark + MARK_BYTES;
    let mut packed = component.to_vec();
    let end = at + LENGTH_BYTES + bytes.len();
    if end > packed.len() {
        return Err(PackError::NoPlace);
    }
    packed[at..at + LENGTH_BYTES].copy_from_slice(&(bytes.len() as u32).to_le_bytes());
    packed[at + LENGTH_BYTES..end].copy_from_slice(&bytes);
    Ok(packed)
}

/// The chart in [`PLACE`], or one stitch of torchon ground while it is empty.
fn packed() -> Chart {
    // `pack` changes these bytes after compilation, so the compiler must not
    // evaluate this read in advance.
    let place: &[u8] = std::hint::black_box(&PLACE);
    let (length, bytes) = place[MARK_BYTES..].split_at(LENGTH_BYTES);
    let length = length.iter().rev().fold(0, |sum, byte| sum << 8 | usize::from(*byte));
    postcard::from_bytes(&bytes[..length.min(ROOM)]).unwrap_or_else(|_| empty())
}

fn empty() -> Chart {
    let exit = || Exit { to: None, twists: Twists::Count(0) };
    Chart {
        id: "empty-chart".into(),
        title: "No chart yet".into(),
        sits_in: None,
        family: "torchon".into(),
        names: Vec::new(),
        laces: Vec::new(),
        angle: 45.0,
        pin_spacing: None,
        notes: "A place for a chart: `pairwise pack` fills it.".into(),
        source: "ours".into(),
        choices: Vec::new(),
        varieties: vec![Named {
            id: "plain".into(),
            title: "No chart yet".into(),
            names: Vec::new(),
            notes: String::new(),
            source: String::new(),
            set: Vec::new(),
        }],
        across: [1.0, 1.0],
        down: [-1.0, 1.0],
        stitches: vec![Stitch {
            id: "pin".into(),
            at: [0.0, 0.0],
            work: vec![Part::Moves("CT pin CT".into())],
            exits: [exit(), exit()],
        }],
    }
}

/// The contribution that answers from the chart packed into it.
pub struct Packed;

impl Contribution for Packed {
    fn about() -> About {
        packed().about()
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        packed().define(settings)
    }
}

contribution!(Packed);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_slot_is_one_stitch_of_torchon() {
        assert_eq!(packed(), empty());
        assert_eq!(Packed::define(&Settings::defaults(&Packed::about())).unwrap().legs.len(), 2);
    }

    #[test]
    fn a_chart_is_packed_into_the_slot_and_nowhere_else() {
        let mut component = vec![7; 10];
        component.extend(PLACE);
        component.extend([7; 10]);
        let packed = pack(&component, &empty()).unwrap();
        assert_eq!(
            (packed.len(), &packed[..34], packed.last()),
            (component.len(), &component[..34], Some(&7))
        );
        let bytes = &packed[38..];
        assert_eq!(postcard::from_bytes::<Chart>(&bytes[..bytes.len() - 10]).unwrap(), empty());
        assert_eq!(pack(&[0; 200_000], &empty()), Err(PackError::NoPlace));
        assert_eq!(pack(&[component.clone(), component].concat(), &empty()), Err(PackError::NoPlace));
        let large = Chart { notes: "x".repeat(ROOM), ..empty() };
        assert!(matches!(pack(&PLACE, &large), Err(PackError::TooLarge(n)) if n > ROOM));
    }
}
