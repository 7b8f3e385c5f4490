//! The request of the `trace` command.

use compare::note::Note;
use compare::scale::Scale;
use compare::trace::TraceRequest;
use compare::trace::steering::SteeringRequest;
use lace::{EdgeChange, EdgeStitches, Side, Stitch, StitchError, Travel};

use super::choices::GroundRequest;
use super::colours::ArrangementRequest;
use super::gauge::scale;
use crate::cli::{TraceArgs, Wish};
use crate::failure::Failure;
use crate::sources::Grounds;

/// A trace whose ground has not been looked up yet.
pub struct UnresolvedTrace<'a> {
    args: &'a TraceArgs,
    scale: Scale,
    ground: GroundRequest,
    colours: ArrangementRequest,
    edges: EdgeStitches,
}

impl<'a> UnresolvedTrace<'a> {
    /// Reads the arguments.
    pub fn read(args: &'a TraceArgs) -> Result<UnresolvedTrace<'a>, Failure> {
        let scale = scale(&args.gauge)?;
        let ground = GroundRequest::new(&args.ground, &args.choices)?;
        let colours = ArrangementRequest::read(&args.colours)?;
        Ok(UnresolvedTrace { args, scale, ground, colours, edges: edges(args)? })
    }

    /// Notes for the user about the colours.
    pub fn notes(&self) -> Vec<Note> {
        let ArrangementRequest { palette, arrangement, .. } = &self.colours;
        palette.notes(None, arrangement.colours())
    }

    /// Looks up the ground to trace.
    pub fn resolve(self, grounds: &Grounds<'_>) -> Result<TraceRequest, Failure> {
        let UnresolvedTrace { args, scale, ground, colours, edges } = self;
        Ok(TraceRequest {
            chosen: ground.choose(grounds)?,
            palette: colours.palette.seen_by(colours.seen_by),
            arrangement: colours.arrangement,
            scale,
            pairs: args.pairs_hung.map(usize::from),
            rows: args.rows.map(usize::from),
            followed_pairs: args.pair.iter().copied().map(usize::from).collect(),
            followed_colours: args.colour.clone(),
            footsides: args.footsides.then_some(edges),
        })
    }

    /// Looks up the ground in which to steer one of its pairs.
    pub fn resolve_steering(self, wish: Wish, grounds: &Grounds<'_>) -> Result<SteeringRequest, Failure> {
        let UnresolvedTrace { args, scale, ground, colours, .. } = self;
        let chosen = ground.choose(grounds)?;
        let &[pair] = args.pair.as_slice() else {
            return Err(Failure::Value {
                what: format!("{} pairs are named", args.pair.len()),
                help: "name one, for example --why stays --pair 1".to_owned(),
            });
        };
        Ok(SteeringRequest {
            chosen,
            palette: colours.palette.seen_by(colours.seen_by),
            arrangement: colours.arrangement,
            scale,
            pair: usize::from(pair),
            wish: wish.into(),
            longest: usize::from(args.longest),
        })
    }
}

impl From<Wish> for Travel {
    fn from(wish: Wish) -> Travel {
        match wish {
            Wish::Stays => Travel::Stays,
            Wish::Left => Travel::Left,
            Wish::Right => Travel::Right,
        }
    }
}

/// The edge stitches the user asks for.
fn edges(args: &TraceArgs) -> Result<EdgeStitches, Failure> {
    let changes: Vec<EdgeChange> =
        args.edge_change.iter().map(|text| edge_change(text)).collect::<Result<_, Failure>>()?;
    for (k, EdgeChange { side, number, .. }) in changes.iter().enumerate() {
        if changes[..k].iter().any(|before| (before.side, before.number) == (*side, *number)) {
            return Err(Failure::Value {
                what: format!("edge stitch {number} at the {} footside is changed twice", side.word()),
                help: "give --edge-change once for each edge stitch".to_owned(),
            });
        }
    }
    Ok(EdgeStitches { stitch: edge_stitch(&args.edge)?, changes })
}

/// Reads `SIDE:NUMBER=STITCH`.
fn edge_change(text: &str) -> Result<EdgeChange, Failure> {
    let wrong = || Failure::Value {
        what: format!("`{}` is not of the form SIDE:NUMBER=STITCH", text.escape_debug()),
        help: "for example --edge-change left:2=\"CT pin CT\"".to_owned(),
    };
    let (place, stitch) = text.split_once('=').ok_or_else(wrong)?;
    let (side, number) = place.split_once(':').ok_or_else(wrong)?;
    let side = match side.trim() {
        "left" => Side::Left,
        "right" => Side::Right,
        _ => return Err(wrong()),
    };
    let number: usize = number.trim().parse().ok().filter(|&n| n > 0).ok_or_else(wrong)?;
    Ok(EdgeChange { side, number, stitch: edge_stitch(stitch)? })
}

fn edge_stitch(text: &str) -> Result<Stitch, Failure> {
    text.parse().map_err(|wrong: StitchError| Failure::Value {
        what: format!("`{}` is no edge stitch: {wrong}", text.escape_debug()),
        help: "write crosses and twists as C and T, for example \"CTCT pin CTCT\"".to_owned(),
    })
}
