//! Tables of pictures: their sizes, and heads that stay visible.

use super::visit;

#[test]
fn heads_of_a_table_stay_in_sight_at_every_size_and_pictures_in_proportion() {
    // Distances from the edges of the table to the heads of its columns and of the
    // row scrolled to; the scroll position; the aspect ratio of a picture.
    const HEADS: &str = "(() => {
        const field = document.querySelector('.field').getBoundingClientRect();
        const heads = document.querySelectorAll('.field thead th');
        const row = [...document.querySelectorAll('.field tbody th')].find((th) => th.getBoundingClientRect().top > field.top);
        const image = document.querySelector('.cut img');
        return [
            heads[heads.length - 1].getBoundingClientRect().top - field.top,
            row.getBoundingClientRect().left - field.left,
            document.querySelector('.field').scrollTop,
            image.offsetWidth / image.offsetHeight / (image.naturalWidth / image.naturalHeight),
        ];
    })()";
    visit(async |page| {
        page.screen(360, 700, false).await;
        for name in ["side-by-side.html", "grounds/rose.html"] {
            page.open(name).await;
            page.read_through().await;
            for (size, wide) in [("small", 80), ("middle", 120), ("large", 240), ("largest", 480)] {
                page.click(&format!("#size-{size}")).await;
                assert_eq!(
                    page.ask::<u32>("document.querySelector('.cut').offsetWidth").await,
                    wide,
                    "{name}"
                );
                page.run("document.querySelector('.field').scrollTo(60, 300)").await;
                let [above, beside, down, drawn_out]: [f64; 4] = page.ask(HEADS).await;
                assert!(down > 100.0, "{name}, {size}: {down}");
                assert!(above.abs() < 2.0 && beside.abs() < 2.0, "{name}, {size}: {above}, {beside}");
                assert!((drawn_out - 1.0).abs() < 0.01, "{name}, {size}: {drawn_out}");
            }
        }
    });
}
