//! Valenciennes ground: square meshes of four-thread plaits. Where two plaits
//! meet, their inner pairs work a stitch and change over into the other plait.

use pairwise_sdk::{About, Contribution, Pillow, Problem, Repeat, Settings, Variety, contribution};

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figure 796";

const FROM_MEMORY: &str = "common practice, from memory";

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
        About::ground("valenciennes", "Valenciennes ground, square mesh")
            .family("mesh")
            .also_called("de", "Valenciennesgrund", "common practice")
            .also_called("fr", "fond de Valenciennes", FROM_MEMORY)
            .used_in(["Valenciennes"])
            // The smallest meshes come out 2.5 mm from pin to pin (common practice, no source).
            .pin_spacing(2.0)
            // Here the meshes come out nearly square; the angle is ours, no source.
            .angle(55.0)
            .notes(
                "Every side of the mesh is a plait of four threads. Clear, strong and slow to work. Often \
                 worked without pins.")
            .source(DILLMONT)
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
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let half_stitches = settings.count("half-stitches")?;
        let plait = "CT".repeat(half_stitches as usize);
        // The distance of the pins follows the length of the plaits.
        let mesh = 0.5 + 0.19 * f64::from(half_stitches);
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
        let expected = [("four", [0, 8, 0]), ("six", [2, 4, 2]), ("eight", [0, 8, 0])];
        assert_eq!(
            pairwise_sdk::travels::<Valenciennes>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
