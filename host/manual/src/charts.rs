//! How a ground or filling is written as a chart: the page on charts.

/// The page, in Markdown: headings, paragraphs and lists of one line each, and
/// charts and commands between lines of three backticks.
pub const PAGE: &str = include_str!("../../../plugins/CHARTS.md");
/// The word by which it is asked for, where codes of faults can be.
pub const WORD: &str = "charts";

/// A part of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A heading.
    Heading(&'static str),
    /// A paragraph.
    Words(&'static str),
    /// An item of a list.
    Item(&'static str),
    /// Lines to be copied as they are, with their ends.
    Copied(&'static str),
}

/// The page in its parts.
pub fn parts() -> impl Iterator<Item = Part> {
    PAGE.split("```").enumerate().flat_map(|(k, block)| {
        if k % 2 == 0 {
            return block.lines().filter(|line| !line.is_empty()).map(line).collect();
        }
        // The first line says what kind of lines these are.
        let lines = block.split_once('\n').map_or("", |(_, lines)| lines);
        vec![Part::Copied(lines)]
    })
}

fn line(line: &'static str) -> Part {
    if line.starts_with('#') {
        Part::Heading(line.trim_start_matches(['#', ' ']))
    } else if let Some(item) = line.strip_prefix("- ") {
        Part::Item(item)
    } else {
        Part::Words(line)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_falls_into_its_parts() {
        let all: Vec<Part> = parts().collect();
        assert!(matches!(all[0], Part::Heading(heading) if heading.starts_with("Charts")), "{:?}", all[0]);
        let copied: Vec<&str> = all
            .iter()
            .filter_map(|part| if let Part::Copied(lines) = part { Some(*lines) } else { None })
            .collect();
        let charts = copied.iter().filter(|lines| lines.starts_with("format = "));
        for chart in charts.clone() {
            assert!(chart_files::read(chart).is_ok(), "{chart}");
        }
        assert_eq!(charts.count(), 2);
        assert!(all.iter().any(|part| matches!(part, Part::Item(item) if item.starts_with("`to`"))));
    }
}
