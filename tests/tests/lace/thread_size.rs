//! Thread sizes and pricking grids against published and computed tables.
//!
//! Sources: see `tests/data/README.md`; each test names its file.

use lace::{Count, Grid, Thread, bare_diameter_mm};
use pairwise_tests::data;
use serde::Deserialize;

fn near(ours: f64, theirs: f64, relative: f64) -> bool {
    (ours - theirs).abs() <= relative * theirs.abs()
}

#[derive(Deserialize)]
struct Conversion {
    tex: f64,
    dtex: f64,
    denier: f64,
    #[serde(rename = "Nm")]
    metric: f64,
    #[serde(rename = "Ne_cotton")]
    cotton: f64,
    linen_lea: f64,
}

// yarn_conversions.csv: exact from the pound and the yard, Pint 0.25.3.
#[test]
fn counts_convert_both_ways() {
    for row in data::rows::<Conversion>("yarn_conversions.csv") {
        for (count, number) in [
            (Count::Tex, row.tex),
            (Count::Decitex, row.dtex),
            (Count::Denier, row.denier),
            (Count::Metric, row.metric),
            (Count::Cotton, row.cotton),
            (Count::Linen, row.linen_lea),
        ] {
            assert!(near(count.of_tex(row.tex), number, 1e-9), "{} tex in {}", row.tex, count.word());
            assert!(near(count.tex(number), row.tex, 1e-9), "{number} {}", count.word());
        }
    }
}

#[derive(Deserialize)]
struct Constant {
    system: String,
    tex_times_count: f64,
}

// yarn_constants.csv: exact fractions.
#[test]
fn one_of_each_count_is_exact() {
    for row in data::rows::<Constant>("yarn_constants.csv") {
        let count = match row.system.as_str() {
            "cotton_Ne_840yd" => Count::Cotton,
            "linen_lea_300yd" => Count::Linen,
            "metric_Nm" => Count::Metric,
            _ => continue,
        };
        assert!(near(count.tex(1.0), row.tex_times_count, 1e-11), "{}", row.system);
    }
}

#[derive(Deserialize)]
struct Published {
    quantity: String,
    published_value: String,
}

// yarn_published_values.csv: rounded, as read.
#[test]
fn published_examples_come_out() {
    let published = data::rows::<Published>("yarn_published_values.csv");
    for (quantity, ours) in [
        ("tex*Ne", Count::Cotton.tex(1.0)),
        ("tex*NeL", Count::Linen.tex(1.0)),
        ("den*Ne", Count::Denier.of_tex(Count::Cotton.tex(1.0))),
        ("den*NeL", Count::Denier.of_tex(Count::Linen.tex(1.0))),
        ("NeL/Ne", Count::Linen.of_tex(1.0) / Count::Cotton.of_tex(1.0)),
        ("Nm/Ne", Count::Metric.of_tex(1.0) / Count::Cotton.of_tex(1.0)),
        ("Nm/NeL", Count::Metric.of_tex(1.0) / Count::Linen.of_tex(1.0)),
        ("worked: Ne 30 -> tex", Count::Cotton.tex(30.0)),
        ("worked: Ne 30 -> denier", Count::Denier.of_tex(Count::Cotton.tex(30.0))),
        ("worked: Nm 60 -> tex", Count::Metric.tex(60.0)),
        ("worked: 20 tex -> Ne", Count::Cotton.of_tex(20.0)),
        ("worked: 30 tex -> Nm", Count::Metric.of_tex(30.0)),
        ("worked: cotton 20s = linen lea", Count::Linen.of_tex(Count::Cotton.tex(20.0))),
    ] {
        let rows: Vec<&Published> = published.iter().filter(|p| p.quantity == quantity).collect();
        assert!(!rows.is_empty(), "{quantity}");
        for row in rows {
            let value: f64 = row.published_value.split(' ').next().unwrap().parse().unwrap();
            let digits = row.published_value.split(' ').next().unwrap().split('.').nth(1).map_or(0, str::len);
            let rounding = 0.51 * 10f64.powi(-(digits as i32));
            assert!((ours - value).abs() <= rounding.max(2e-4 * value), "{quantity}: {ours}, read {value}");
        }
    }
    // Two plies of 80s are as thick as one thread of 40s (C. P. Brooks).
    let size = |text: &str| text.parse::<Thread>().unwrap().diameter_mm();
    assert!(near(size("80/2 cotton"), size("40 cotton"), 1e-12));
}

#[derive(Deserialize)]
struct Diameter {
    tex: f64,
    model: String,
    diameter_mm: f64,
    touching_threads_per_cm: f64,
}

// yarn_diameter.csv, specific volume 1.1 cm3/g of F. T. Peirce.
#[test]
fn bare_diameters_follow_peirce() {
    let mut compared = 0;
    for row in data::rows::<Diameter>("yarn_diameter.csv").iter().filter(|r| r.model.contains("Peirce")) {
        let bare = bare_diameter_mm(row.tex);
        assert!(near(bare, row.diameter_mm, 1e-7), "{} tex", row.tex);
        assert!(near(10.0 / bare, row.touching_threads_per_cm, 1e-7), "{} tex", row.tex);
        // Wraps on a ruler lie looser, all by the same factor.
        let thread: Thread = format!("{} tex", row.tex).parse().unwrap();
        assert_eq!(thread, Thread::of_tex(row.tex).unwrap());
        assert!(near(thread.diameter_mm() / bare, 1.0 / 0.72, 1e-12), "{} tex", row.tex);
        compared += 1;
    }
    assert_eq!(compared, 13);
}

#[derive(Deserialize)]
struct Fact {
    fact: String,
    value: String,
}

// lace_handbook_facts.csv: a worked example of the trade, wraps on a ruler.
#[test]
fn wraps_are_counted_as_on_a_ruler() {
    let facts = data::rows::<Fact>("lace_handbook_facts.csv");
    let mut compared = 0;
    for fact in &facts {
        let Some(count) = fact.fact.strip_prefix("wraps_per_cm_linen_") else { continue };
        let thread: Thread = format!("{count} linen").parse().unwrap();
        assert_eq!(format!("{:.0}", thread.wraps_per_cm()), fact.value, "{count}");
        compared += 1;
    }
    assert_eq!(compared, 2);
}

#[derive(Deserialize)]
struct Taylor {
    #[serde(rename = "cotton_count_Ne")]
    cotton: f64,
    threads_touching_per_inch_published: f64,
}

// yarn_taylor_diameter_table.csv: J. T. Taylor, Cotton Weaving and Designing,
// 6th edition. An older measurement than Peirce's, so only about the same.
#[test]
fn diameters_agree_with_taylors_table_within_two_percent() {
    for row in data::rows::<Taylor>("yarn_taylor_diameter_table.csv") {
        let per_inch = 25.4 / bare_diameter_mm(Count::Cotton.tex(row.cotton));
        assert!(near(per_inch, row.threads_touching_per_inch_published, 0.02), "{}: {per_inch}", row.cotton);
    }
}

// About twelve wraps between two footside pins (common practice, no source).
#[test]
fn twelve_wraps_of_a_suitable_thread_fit_between_two_pins() {
    for spacing in [2.0, 5.0, 10.0] {
        let thread = Thread::suiting(spacing);
        assert!(near(thread.wraps_per_cm() * spacing / 10.0, 12.0, 1e-12));
    }
}

#[derive(Deserialize)]
struct Geometry {
    angle_from_footside_deg: f64,
    footside_pin_spacing_mm: f64,
    row_height_mm: f64,
    column_step_mm: f64,
    edge_length_mm: f64,
}

// grid_angle_geometry.csv: plain trigonometry.
#[test]
fn grids_have_the_steps_of_their_angle() {
    for row in data::rows::<Geometry>("grid_angle_geometry.csv") {
        let grid = Grid::new(row.footside_pin_spacing_mm, row.angle_from_footside_deg).unwrap();
        assert!((grid.step_y_mm() - row.row_height_mm).abs() < 1e-8);
        assert!((grid.step_x_mm() - row.column_step_mm).abs() < 1e-8);
        let edge = grid.mm(lace::point(1.0, 1.0));
        assert!((libm::hypot(edge.x, edge.y) - row.edge_length_mm).abs() < 1e-8);
    }
}
