//! The outline and the edges.

use lace::{Edge, Footside, MAX_PIECE_ROWS, Outline, PIECE_WIDTH, Stitch, Tip};

use super::Reader;
use super::value::Fields;

const TIPS: [(&str, Tip); 2] = [("pointed", Tip::Pointed), ("straight", Tip::Straight)];
/// The usual stitches of a footside (common practice, no source).
const PASSING: &str = "CTC";
const EDGE: &str = "CTCT pin";

impl Reader<'_> {
    pub(super) fn outline(&mut self, fields: &mut Fields<'_>) -> Option<Outline> {
        let Some(mut part) = self.part(fields, "outline") else {
            let example = "the part [outline] with its lines, for example width = 7 and sides = 12";
            if fields.get("outline").is_none() {
                self.missing(fields, "outline", example);
            }
            return None;
        };
        self.places.outline = part.at.clone();
        let mut tip = |reader: &mut Self, key: &'static str, example: &str| match part.get(key) {
            None => Some(Tip::Pointed),
            Some(value) => reader.one_of(value, &TIPS, example),
        };
        let start = tip(self, "start", "start = \"pointed\"");
        let finish = tip(self, "finish", "finish = \"straight\"");
        let [least, most] = PIECE_WIDTH;
        let width = match part.get("width") {
            None => {
                self.missing(&part, "width", "the pins across, for example width = 7");
                None
            }
            Some(value) => {
                let beyond = |n: &str| format!("a piece cannot be {n} pins wide");
                self.whole(value, least..=most, beyond, "width = 7")
            }
        };
        let sides = match part.get("sides") {
            None => {
                self.missing(&part, "sides", "the pins down each straight side, for example sides = 12");
                None
            }
            Some(value) => {
                let beyond = |n: &str| format!("{n} pins down each side are more than a piece can have");
                let sides = self.whole(value, 0..=MAX_PIECE_ROWS / 2, beyond, "sides = 12");
                sides.map(|sides| (sides, value.span()))
            }
        };
        self.leave(&part);
        let (sides, sides_at) = sides?;
        let outline = Outline { start: start?, finish: finish?, width: width?, sides };
        let rows = outline.last_row();
        if rows > MAX_PIECE_ROWS as f64 {
            let sentence = format!("the piece has {} rows of pins", rows + 1.0);
            self.fault(sides_at, sentence, format!("make it {} rows long at most", MAX_PIECE_ROWS + 1));
            return None;
        }
        if rows < 1.0 {
            let sentence = "nothing is left between the start and the finish";
            self.fault(sides_at, sentence, "give it pins down the sides, for example sides = 12");
            return None;
        }
        Some(outline)
    }

    /// What is worked at the edges, and at the first pin.
    pub(super) fn edges(
        &mut self,
        fields: &mut Fields<'_>,
        outline: Option<Outline>,
    ) -> (Edge, Option<Stitch>) {
        let mut edge = Edge::default();
        let mut first = None;
        if let Some(mut part) = self.part(fields, "edge") {
            let example = "\"cloth stitch and twist, pin, cloth stitch and twist\"";
            if let Some(value) = part.get("stitch") {
                edge.stitch = self.stitch(value, &format!("stitch = {example}"));
            }
            if let Some(value) = part.get("first") {
                first = self.stitch(value, "first = \"CTCT\"");
                if outline.is_some_and(|outline| outline.start == Tip::Straight) {
                    let remedy = "leave this line out, or write start = \"pointed\" in [outline]";
                    self.fault(value.span(), "only a pointed start has one first pin", remedy);
                }
            }
            self.leave(&part);
        }
        if let Some(mut part) = self.part(fields, "footside") {
            let beyond = |n: &str| format!("a footside with {n} passive pairs is not worked here");
            let passives = match part.get("passives") {
                None => Some(1),
                Some(value) => self.whole(value, 1..=2, beyond, "passives = 2"),
            };
            let mut usual = |reader: &mut Self, key: &'static str, usual: &str| match part.get(key) {
                None => Stitch::from_words(usual).ok(),
                Some(value) => reader.stitch(value, &format!("{key} = \"{usual}\"")),
            };
            let passing = usual(self, "stitch", PASSING);
            let stitch = usual(self, "edge", EDGE);
            self.leave(&part);
            if outline.is_some_and(|outline| outline.sides == 0) {
                let sentence = "a footside runs down straight sides, and this piece has none";
                self.fault(
                    part.at.clone(),
                    sentence,
                    "leave this part out, or give more pins to `sides` in [outline]",
                );
            }
            if let (Some(passives), Some(passing), Some(edge_stitch)) = (passives, passing, stitch) {
                edge.footside = Some(Footside { passives, passing, edge: edge_stitch });
            }
        }
        (edge, first)
    }
}
