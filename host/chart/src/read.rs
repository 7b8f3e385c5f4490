//! Reading a chart from text: every name is looked up, every fault has its
//! position.

use std::collections::BTreeMap;
use std::ops::Range;

use lace::{Cell, Lattice, Point, point};
use pairwise_chart::{Chart, Choice, Exit, Name, Named, Part, Set, Stitch, Twists};
use serde::Deserialize;
use toml::Spanned;

use crate::FORMAT;

/// Something wrong in a chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Its byte range in the text.
    pub at: Range<usize>,
    /// What is wrong, in one sentence.
    pub sentence: String,
    /// What to do about it.
    pub remedy: String,
}

/// A chart and the positions of its parts in the text.
#[derive(Clone, Debug)]
pub struct Read {
    /// The chart.
    pub chart: Chart,
    /// The byte ranges of each stitch, in the order of the chart: its name, its left
    /// and its right exit (the name again when the exit is not written).
    pub stitches: Vec<[Range<usize>; 3]>,
    /// The byte range of the repeat's steps.
    pub repeat: Range<usize>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    format: Spanned<String>,
    about: Spanned<AboutText>,
    repeat: Spanned<RepeatText>,
    #[serde(default)]
    works: BTreeMap<Spanned<String>, Spanned<String>>,
    #[serde(default, rename = "stitch")]
    stitches: Vec<StitchText>,
    #[serde(default, rename = "choice")]
    choices: Vec<ChoiceText>,
    #[serde(default, rename = "variety")]
    varieties: Vec<VarietyText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct AboutText {
    id: Spanned<String>,
    title: String,
    #[serde(default)]
    sits_in: Option<String>,
    #[serde(default)]
    family: Option<String>,
    #[serde(default)]
    laces: Vec<String>,
    #[serde(default)]
    angle: Option<f64>,
    #[serde(default)]
    notes: String,
    source: String,
    #[serde(default)]
    names: Vec<NameText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NameText {
    language: String,
    name: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RepeatText {
    across: [f64; 2],
    down: [f64; 2],
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StitchText {
    id: Spanned<String>,
    at: [f64; 2],
    work: Spanned<String>,
    left: Option<Spanned<ExitText>>,
    right: Option<Spanned<ExitText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ExitText {
    to: Option<Spanned<String>>,
    enters: Option<Spanned<String>>,
    at: Option<Spanned<[f64; 2]>>,
    twists: Option<Spanned<TwistsText>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum TwistsText {
    Count(i64),
    Choice(String),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChoiceText {
    id: Spanned<String>,
    title: String,
    options: Option<Spanned<Vec<OptionText>>>,
    count: Option<Spanned<[i64; 2]>>,
    usual: Option<Spanned<i64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OptionText {
    id: Spanned<String>,
    title: Option<String>,
    work: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct VarietyText {
    id: Spanned<String>,
    title: String,
    #[serde(default)]
    notes: String,
    #[serde(default)]
    source: String,
    #[serde(default)]
    names: Vec<NameText>,
    #[serde(default)]
    set: BTreeMap<Spanned<String>, Spanned<SetText>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum SetText {
    Count(i64),
    Option(String),
}

/// Reads a chart.
///
/// # Errors
/// All faults that can be found at once, in the order of the text. If the text
/// is not TOML, only the first.
pub fn read(text: &str) -> Result<Read, Vec<Fault>> {
    let file: File = toml::from_str(text).map_err(|why| {
        let at = why.span().unwrap_or(0..0);
        let sentence = why.message().trim().replace('\n', " ");
        vec![Fault { at, sentence, remedy: REMEDY.to_owned() }]
    })?;
    let mut reader = Reader { file: &file, faults: Vec::new() };
    let read = reader.read();
    let mut faults = reader.faults;
    if faults.is_empty() {
        return Ok(read);
    }
    faults.sort_by_key(|fault| fault.at.start);
    Err(faults)
}

const REMEDY: &str = "compare with the page on charts, or with a chart that `pairwise unpack` writes";

struct Reader<'a> {
    file: &'a File,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn fault(&mut self, at: Range<usize>, sentence: impl Into<String>, remedy: impl Into<String>) {
        self.faults.push(Fault { at, sentence: sentence.into(), remedy: remedy.into() });
    }

    fn read(&mut self) -> Read {
        let file = self.file;
        let about = file.about.get_ref();
        if file.format.get_ref() != FORMAT {
            let found = lace::quote(file.format.get_ref());
            self.fault(
                file.format.span(),
                format!("the format is `{found}`"),
                format!("write \"{FORMAT}\"; if the chart is newer than this program, update the program"),
            );
        }
        self.word(&about.id, "the ground");
        for (name, work) in &file.works {
            let both = file.choices.iter().any(|c| c.id.get_ref() == name.get_ref());
            if both {
                let sentence = format!("`{}` is a work and a choice", lace::quote(name.get_ref()));
                self.fault(name.span(), sentence, "rename one of them");
            }
            self.moves(work.get_ref(), work.span());
        }
        let choices: Vec<Choice> = file.choices.iter().map(|choice| self.choice(choice)).collect();
        for (k, choice) in file.choices.iter().enumerate() {
            self.once(&choice.id, file.choices[..k].iter().map(|c| &c.id), "choices");
        }
        let mut stitches = Vec::new();
        let mut places = Vec::new();
        for (k, stitch) in file.stitches.iter().enumerate() {
            self.word(&stitch.id, "a stitch");
            self.once(&stitch.id, file.stitches[..k].iter().map(|s| &s.id), "stitches");
            let work = self.parts(&stitch.work);
            let exits = [(&stitch.left, 0), (&stitch.right, 1)].map(|(exit, side)| match exit {
                Some(exit) => self.exit(stitch, side, exit),
                None => Exit { to: None, twists: Twists::Count(0) },
            });
            let name = stitch.id.span();
            let written =
                |exit: &Option<Spanned<ExitText>>| exit.as_ref().map_or(name.clone(), Spanned::span);
            places.push([name.clone(), written(&stitch.left), written(&stitch.right)]);
            stitches.push(Stitch { id: stitch.id.get_ref().clone(), at: stitch.at, work, exits });
        }
        if stitches.is_empty() {
            let at = file.repeat.span();
            self.fault(at, "there is no stitch", "write at least one, beginning with [[stitch]]");
        }
        let mut varieties: Vec<Named> = file.varieties.iter().map(|v| self.variety(v)).collect();
        for (k, variety) in file.varieties.iter().enumerate() {
            self.once(&variety.id, file.varieties[..k].iter().map(|v| &v.id), "varieties");
        }
        if varieties.is_empty() {
            varieties.push(Named {
                id: "plain".to_owned(),
                title: about.title.clone(),
                names: Vec::new(),
                notes: String::new(),
                source: String::new(),
                set: Vec::new(),
            });
        }
        let repeat = file.repeat.get_ref();
        let chart = Chart {
            id: about.id.get_ref().clone(),
            title: about.title.clone(),
            sits_in: about.sits_in.clone(),
            family: about.family.clone().unwrap_or_else(|| about.id.get_ref().clone()),
            names: about.names.iter().map(name).collect(),
            laces: about.laces.clone(),
            angle: about.angle.unwrap_or(45.0),
            notes: about.notes.clone(),
            source: about.source.clone(),
            choices,
            varieties,
            across: repeat.across,
            down: repeat.down,
            stitches,
        };
        Read { chart, stitches: places, repeat: file.repeat.span() }
    }

    /// Checks that an id is a plain word.
    fn word(&mut self, id: &Spanned<String>, what: &str) {
        if !lace::is_plain_word(id.get_ref()) {
            self.fault(
                id.span(),
                format!("`{}` cannot be the id of {what}", lace::quote(id.get_ref())),
                "use a to z, 0 to 9 and hyphens, a letter or digit first, at most 40 characters",
            );
        }
    }

    fn once<'b>(
        &mut self,
        id: &Spanned<String>,
        mut before: impl Iterator<Item = &'b Spanned<String>>,
        what: &str,
    ) {
        if before.any(|other| other.get_ref() == id.get_ref()) {
            let sentence = format!("two {what} are called `{}`", lace::quote(id.get_ref()));
            self.fault(id.span(), sentence, "rename one of them");
        }
    }

    /// Reads moves written in words.
    fn moves(&mut self, text: &str, at: Range<usize>) -> String {
        match lace::Stitch::from_words(text) {
            Ok(work) => work.to_string(),
            Err(why) => {
                let known: Vec<&str> = self.file.works.keys().map(|k| k.get_ref().as_str()).collect();
                self.fault(at, why.to_string(), near(text, known, lace::STITCH_PHRASES));
                String::new()
            }
        }
    }

    /// Reads a work: phrases separated by commas. Each is a name defined in the
    /// chart, a choice, or a stitch in words.
    fn parts(&mut self, work: &Spanned<String>) -> Vec<Part> {
        let text = work.get_ref();
        let own = |phrase: &str| {
            let named = self.file.works.iter().find(|(name, _)| name.get_ref() == phrase);
            let choice = self.file.choices.iter().position(|c| c.id.get_ref() == phrase);
            (named, choice)
        };
        let mut parts = Vec::new();
        // Phrases between two names are read together: a tally takes two phrases.
        let mut words: Vec<&str> = Vec::new();
        let mut read = Vec::new();
        for phrase in text.split(',').map(str::trim) {
            match own(phrase) {
                (Some((_, moves)), _) => {
                    read.push((std::mem::take(&mut words), Some(Err(moves))));
                }
                (None, Some(choice)) => read.push((std::mem::take(&mut words), Some(Ok(choice)))),
                (None, None) => words.push(phrase),
            }
        }
        read.push((words, None));
        for (words, then) in read {
            if !words.is_empty() {
                parts.push(Part::Moves(self.moves(&words.join(", "), work.span())));
            }
            match then {
                Some(Ok(choice)) => {
                    if self.file.choices[choice].options.is_none() {
                        let sentence = format!(
                            "the choice `{}` is a number, not a stitch",
                            self.file.choices[choice].id.get_ref()
                        );
                        self.fault(
                            work.span(),
                            sentence,
                            "give the choice `options`, or use it for `twists`",
                        );
                    }
                    parts.push(Part::Chosen(choice as u32));
                }
                Some(Err(moves)) => {
                    parts.push(Part::Moves(match lace::Stitch::from_words(moves.get_ref()) {
                        Ok(work) => work.to_string(),
                        // Reported where it is defined.
                        Err(_) => String::new(),
                    }))
                }
                None => {}
            }
        }
        parts
    }

    fn exit(&mut self, stitch: &StitchText, side: usize, exit: &Spanned<ExitText>) -> Exit {
        let text = exit.get_ref();
        let twists = text.twists.as_ref().map_or(Twists::Count(0), |twists| self.twists(twists));
        let Some(to) = &text.to else {
            for (written, span) in [
                ("at", text.at.as_ref().map(Spanned::span)),
                ("enters", text.enters.as_ref().map(Spanned::span)),
            ] {
                if let Some(span) = span {
                    let sentence = format!("`{written}` says nothing without `to`");
                    self.fault(
                        span,
                        sentence,
                        "say with `to` which stitch the pair goes to, or leave it out",
                    );
                }
            }
            return Exit { to: None, twists };
        };
        let right = match text.enters.as_ref().map(|e| (e.get_ref().as_str(), e.span())) {
            // As on the grid: a pair that leaves on the left comes in on the right.
            None => side == 0,
            Some(("left", _)) => false,
            Some(("right", _)) => true,
            Some((other, span)) => {
                let sentence = format!("`{}` is no side", lace::quote(other));
                self.fault(span, sentence, "write \"left\" or \"right\"");
                false
            }
        };
        let Some(number) = self.file.stitches.iter().position(|s| s.id.get_ref() == to.get_ref()) else {
            let known: Vec<&str> = self.file.stitches.iter().map(|s| s.id.get_ref().as_str()).collect();
            let sentence = format!("no stitch is called `{}`", lace::quote(to.get_ref()));
            let all = format!("the stitches are {}", list(&known));
            self.fault(to.span(), sentence, near(to.get_ref(), known, &all));
            return Exit { to: None, twists };
        };
        let home = place(self.file.stitches[number].at);
        let at = match &text.at {
            Some(at) => {
                if self.copy(home, place(*at.get_ref())).is_none() {
                    let [x, y] = at.get_ref();
                    let repeat = self.file.repeat.get_ref();
                    self.fault(
                        at.span(),
                        format!("`{}` never stands at [{x}, {y}]", lace::quote(to.get_ref())),
                        format!(
                            "it stands at [{}, {}] and in steps of [{}, {}] and [{}, {}] from there",
                            home.x,
                            home.y,
                            repeat.across[0],
                            repeat.across[1],
                            repeat.down[0],
                            repeat.down[1]
                        ),
                    );
                }
                *at.get_ref()
            }
            None => {
                let at = self.nearest_below(place(stitch.at), home, side);
                [at.x, at.y]
            }
        };
        Exit { to: Some((number as u32, right, at)), twists }
    }

    fn lattice(&self) -> Lattice {
        let repeat = self.file.repeat.get_ref();
        Lattice { across: place(repeat.across), down: place(repeat.down) }
    }

    /// The cell in which a stitch whose own place is `home` lies at `at`.
    fn copy(&self, home: Point, at: Point) -> Option<Cell> {
        const NEAR: f64 = 1e-6;
        let cell = self.lattice().coordinates(at - home);
        cell.iter().all(|c| (c - c.round()).abs() < NEAR).then(|| cell.map(|c| c.round() as i64).into())
    }

    /// The nearest copy of a stitch that lies lower than `from`. Of two equally near
    /// ones, the one on the side (0 left, 1 right) by which the pair leaves.
    fn nearest_below(&self, from: Point, home: Point, side: usize) -> Point {
        let lattice = self.lattice();
        const FAR: i64 = 6;
        let cells = (-FAR..=FAR).flat_map(|i| (-FAR..=FAR).map(move |j| Cell::new(i, j)));
        let places = cells.map(|cell| home + lattice.place(cell)).filter(|p| p.y > from.y + 1e-9);
        let far = |p: &Point| (p.x - from.x) * (p.x - from.x) + (p.y - from.y) * (p.y - from.y);
        let outward = |p: &Point| if side == 0 { p.x } else { -p.x };
        places
            .min_by(|p, q| far(p).total_cmp(&far(q)).then(outward(p).total_cmp(&outward(q))))
            .unwrap_or(home)
    }

    fn twists(&mut self, twists: &Spanned<TwistsText>) -> Twists {
        match twists.get_ref() {
            TwistsText::Count(count) => match u32::try_from(*count) {
                Ok(count) if count <= lace::limits::MAX_TWISTS => Twists::Count(count),
                _ => {
                    let most = lace::limits::MAX_TWISTS;
                    self.fault(
                        twists.span(),
                        format!("{count} twists cannot be made"),
                        format!("give 0 to {most}"),
                    );
                    Twists::Count(0)
                }
            },
            TwistsText::Choice(id) => {
                let found = self.file.choices.iter().position(|c| c.id.get_ref() == id);
                if let Some(choice) = found
                    && self.file.choices[choice].count.is_some()
                {
                    return Twists::Chosen(choice as u32);
                }
                let counts = self.file.choices.iter().filter(|c| c.count.is_some());
                let known: Vec<&str> = counts.map(|c| c.id.get_ref().as_str()).collect();
                let sentence = format!("`{}` is no choice of a number", lace::quote(id));
                self.fault(
                    twists.span(),
                    sentence,
                    near(id, known, "write a number, or the id of a choice with `count`"),
                );
                Twists::Count(0)
            }
        }
    }

    fn choice(&mut self, choice: &ChoiceText) -> Choice {
        self.word(&choice.id, "a choice");
        let range = match (&choice.options, &choice.count) {
            (Some(options), None) => {
                if options.get_ref().is_empty() {
                    self.fault(
                        options.span(),
                        "there is nothing to choose from",
                        "write at least one option",
                    );
                }
                if let Some(usual) = &choice.usual {
                    let remedy = "leave it out: the first option is the usual one";
                    self.fault(usual.span(), "`usual` belongs to a choice with `count`", remedy);
                }
                let mut works = Vec::new();
                for (k, option) in options.get_ref().iter().enumerate() {
                    self.word(&option.id, "an option");
                    self.once(&option.id, options.get_ref()[..k].iter().map(|o| &o.id), "options");
                    let named =
                        self.file.works.iter().find(|(name, _)| name.get_ref() == option.work.get_ref());
                    let moves = match named {
                        Some((_, work)) => lace::Stitch::from_words(work.get_ref())
                            .map(|w| w.to_string())
                            .unwrap_or_default(),
                        None => self.moves(option.work.get_ref(), option.work.span()),
                    };
                    let title = option.title.clone().unwrap_or_else(|| option.work.get_ref().clone());
                    works.push((option.id.get_ref().clone(), title, moves));
                }
                pairwise_chart::Range::Works(works)
            }
            (None, Some(count)) => {
                let [least, most] = *count.get_ref();
                let usual = choice.usual.as_ref().map_or(least, |u| *u.get_ref());
                let whole = |n: i64| i32::try_from(n).unwrap_or(i32::MAX);
                if least > most {
                    let sentence = format!("from {least} to {most} there is no number");
                    self.fault(count.span(), sentence, "write the smaller number first");
                } else if !(least..=most).contains(&usual) {
                    let span = choice.usual.as_ref().map_or(count.span(), Spanned::span);
                    self.fault(
                        span,
                        format!("{usual} is not from {least} to {most}"),
                        "choose a `usual` between them",
                    );
                }
                pairwise_chart::Range::Count(whole(least), whole(most), whole(usual))
            }
            _ => {
                self.fault(
                    choice.id.span(),
                    format!("`{}` must have either `options` or `count`", lace::quote(choice.id.get_ref())),
                    "options = [{ id = ..., work = ... }, ...] for stitches, count = [0, 3] for a number",
                );
                pairwise_chart::Range::Count(0, 0, 0)
            }
        };
        Choice { id: choice.id.get_ref().clone(), title: choice.title.clone(), range }
    }

    fn variety(&mut self, variety: &VarietyText) -> Named {
        self.word(&variety.id, "a variety");
        let mut set = Vec::new();
        for (choice, value) in &variety.set {
            let Some(found) = self.file.choices.iter().find(|c| c.id.get_ref() == choice.get_ref()) else {
                let known: Vec<&str> = self.file.choices.iter().map(|c| c.id.get_ref().as_str()).collect();
                let sentence = format!("there is no choice `{}`", lace::quote(choice.get_ref()));
                let all = format!("the choices are {}", list(&known));
                self.fault(choice.span(), sentence, near(choice.get_ref(), known, &all));
                continue;
            };
            match (value.get_ref(), &found.options, &found.count) {
                (SetText::Option(option), Some(options), _) => {
                    let known: Vec<&str> =
                        options.get_ref().iter().map(|o| o.id.get_ref().as_str()).collect();
                    if !known.contains(&option.as_str()) {
                        let sentence =
                            format!("`{}` has no option `{}`", choice.get_ref(), lace::quote(option));
                        let all = format!("the options are {}", list(&known));
                        self.fault(value.span(), sentence, near(option, known, &all));
                    }
                    set.push((choice.get_ref().clone(), Set::Option(option.clone())));
                }
                (SetText::Count(count), _, Some(range)) => {
                    let [least, most] = *range.get_ref();
                    if !(least..=most).contains(count) {
                        let remedy = format!("give a number from {least} to {most}");
                        self.fault(value.span(), format!("`{}` cannot be {count}", choice.get_ref()), remedy);
                    }
                    set.push((
                        choice.get_ref().clone(),
                        Set::Count(i32::try_from(*count).unwrap_or(i32::MAX)),
                    ));
                }
                (SetText::Option(_), ..) => {
                    let sentence = format!("`{}` is set to a word", choice.get_ref());
                    self.fault(value.span(), sentence, "give a number without quotation marks");
                }
                (SetText::Count(_), ..) => {
                    let sentence = format!("`{}` is set to a number", choice.get_ref());
                    self.fault(
                        value.span(),
                        sentence,
                        "give the id of one of its options, in quotation marks",
                    );
                }
            }
        }
        Named {
            id: variety.id.get_ref().clone(),
            title: variety.title.clone(),
            names: variety.names.iter().map(name).collect(),
            notes: variety.notes.clone(),
            source: variety.source.clone(),
            set,
        }
    }
}

fn name(name: &NameText) -> Name {
    Name(name.language.clone(), name.name.clone(), name.source.clone())
}

fn place([x, y]: [f64; 2]) -> Point {
    point(x, y)
}

fn list(ids: &[&str]) -> String {
    ids.iter().map(|id| format!("`{}`", lace::quote(id))).collect::<Vec<_>>().join(", ")
}

/// The remedy for an unknown name: the nearest name, and all there are.
fn near(name: &str, known: Vec<&str>, all: &str) -> String {
    let like = |k: &&str| strsim::jaro_winkler(name, k);
    let best = known.iter().copied().filter(|k| like(k) > 0.8).max_by(|a, b| like(a).total_cmp(&like(b)));
    match best {
        Some(best) => format!("did you mean `{}`? Otherwise: {all}", lace::quote(best)),
        None => all.to_owned(),
    }
}
