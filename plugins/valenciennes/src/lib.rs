//! Valenciennes ground: square or round meshes of four-thread plaits. Where two plaits
//! meet, their inner pairs work a stitch and change over into the other plait.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 796";

/// She calls the ground of Bruges round and its bobbins "only twisted twice", those of
/// Ghent "two turns and a half". A turn read as two half stitches is ours: only so is
/// half a turn a stitch.
const PALLISER: &str = "round mesh of Bruges, twisted only twice: Mrs. Bury Palliser, History of Lace, 1902, page 133 and \
                        footnote 377 (page 232 has three times); two twists read as four half stitches: ours";
const FROM_MEMORY: &str = "common practice, from memory";

/// Shapes of the mesh: id, title, length of a half stitch along a side of the mesh, across
/// or down, in grid steps.
///
/// In the square mesh a plait of four threads lies straight and takes about 2.4 thread
/// widths of length for each half stitch; in the round mesh it is pressed together. Both
/// are ours, no source.
const MESHES: [(&str, &str, f64); 2] =
    [("square", "square, standing on a point", 0.33), ("round", "round, the plaits pressed together", 0.19)];

/// Stitches where two plaits meet: id, title, moves.
const MEETINGS: [(&str, &str, &str); 3] = [
    ("half-half", "half stitch, pin, half stitch", "CT pin CT"),
    ("cloth-cloth", "cloth stitch, pin, cloth stitch", "CTC pin CTC"),
    ("half", "half stitch, pin, nothing after it", "CT pin"),
];

/// Valenciennes ground with plaits of different lengths.
pub struct Valenciennes;

impl Contribution for Valenciennes {
    fn about() -> About {
        let plaits = |id, title, half_stitches: i32| {
            Variety::new(id, title).set("half-stitches", half_stitches).source(DILLMONT)
        };
        About::ground("valenciennes", "Valenciennes ground")
            .family("mesh")
            .also_called("de", "Valenciennesgrund", "common practice")
            .also_called("fr", "fond de Valenciennes", FROM_MEMORY)
            .used_in(["Valenciennes"])
            // The smallest square meshes come out 2.3 mm from pin to pin (common practice, no source).
            .pin_spacing(1.25)
            // Here the square meshes come out square; the angle is ours, no source.
            .angle(49.0)
            .notes(
                "Every side of the mesh is a plait of four threads. Clear, strong and slow to work. Often \
                 worked without pins.")
            .source(DILLMONT)
            .choose("mesh", "Shape of the mesh", &MESHES)
            .choose_count("half-stitches", "Half stitches in a plait", 2..=10, 4)
            .choose("meeting", "Where two plaits meet", &MEETINGS)
            .variety(
                plaits("four", "Valenciennes ground, four half stitches", 4)
                    .also_called("fr", "Valenciennes à mailles carrées", "common practice")
                    .notes(
                    "Small meshes. After four half stitches every thread is back in its place in the plait: all pairs stay.",
                ),
            )
            .variety(
                plaits("six", "Valenciennes ground, six half stitches", 6)
                    .notes("After six half stitches the two pairs of a plait have changed sides: half the pairs stay, half travel."),
            )
            .variety(
                plaits("eight", "Valenciennes ground, eight half stitches", 8)
                    .notes("Large open meshes. As with four half stitches, all pairs stay."),
            )
            .variety(
                plaits("round", "Valenciennes ground, round mesh", 4)
                    .set("mesh", "round")
                    .also_called("fr", "Valenciennes à mailles rondes", FROM_MEMORY)
                    .source(PALLISER)
                    .notes("Small round meshes, as in the lace of Bruges; less clear than the square mesh. All pairs stay."),
            )
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let half_stitches = settings.count("half-stitches")?;
        let plait = "CT".repeat(half_stitches as usize);
        // The distance of the pins follows the length of the plaits.
        let mesh = 0.5 + settings.pick("mesh", &MESHES)? * f64::from(half_stitches);
        Pillow::new(4, 2.0 * mesh)
            .stitch("meeting", (0, 0), 1, settings.pick("meeting", &MEETINGS)?)
            .stitch("plait-left", (-0.5 * mesh, 0.5 * mesh), 0, &plait)
            .stitch("plait-right", (0.5 * mesh, 0.5 * mesh), 2, &plait)
            .repeat((mesh, mesh), 2)
    }
}

contribution!(Valenciennes);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Valenciennes>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("four", [0, 8, 0]), ("six", [2, 4, 2]), ("eight", [0, 8, 0]), ("round", [0, 8, 0])];
        assert_eq!(
            pairwise_sdk::travels::<Valenciennes>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
