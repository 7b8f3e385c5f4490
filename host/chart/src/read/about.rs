//! What a chart says about its ground: titles, names, notes and the angle.

use catalogue::limits::{
    CHOICES, NAMES, NOTES_CHARS, OPTIONS, SENTENCE_CHARS, TITLE_CHARS, VARIETIES, WORD_CHARS,
};
use catalogue::text::is_visible;
use lace::limits::GRID_ANGLE_DEG;
use toml::Spanned;

use super::Reader;
use super::text::{AboutText, NameText};

impl<'a> Reader<'a> {
    /// Checks everything that [`AboutText`] says, except the id.
    pub(super) fn about(&mut self) {
        let file: &'a _ = self.file;
        let about: &AboutText = file.about.get_ref();
        self.title(&about.title);
        self.length(&about.notes, NOTES_CHARS);
        self.length(&about.source, SENTENCE_CHARS);
        self.names(&about.names);
        self.few(&about.laces, "laces", NAMES);
        about.laces.get_ref().iter().for_each(|lace| self.title(lace));
        for (id, what) in [(&about.family, "a family"), (&about.sits_in, "the ground it sits in")] {
            if let Some(id) = id.as_ref().filter(|id| !lace::is_plain_word(id.get_ref())) {
                self.fault(
                    id.span(),
                    format!("`{}` cannot be {what}", lace::quote(id.get_ref())),
                    format!(
                        "use a to z, 0 to 9 and hyphens, at most {WORD_CHARS} characters: rose, or honeycomb"
                    ),
                );
            }
        }
        if let Some(angle) = &about.angle {
            self.angle(angle);
        }
        for (number, what, most) in
            [(file.choices.len(), "choices", CHOICES), (file.varieties.len(), "varieties", VARIETIES)]
        {
            if number > most {
                let sentence = format!("there are {number} {what}; a chart has room for {most}");
                self.fault(file.about.span(), sentence, "leave some of them out");
            }
        }
        for choice in &file.choices {
            self.title(&choice.title);
            if let Some(options) = &choice.options {
                self.few(options, "options", OPTIONS);
            }
        }
        for variety in &file.varieties {
            self.title(&variety.title);
            self.length(&variety.notes, NOTES_CHARS);
            self.length(&variety.source, SENTENCE_CHARS);
            self.names(&variety.names);
        }
    }

    fn angle(&mut self, angle: &Spanned<f64>) {
        let [least, most] = GRID_ANGLE_DEG;
        let given = *angle.get_ref();
        if (least..=most).contains(&given) {
            return;
        }
        self.fault(
            angle.span(),
            format!("an angle of {given} degrees cannot be pricked"),
            format!(
                "give {least} to {most} degrees between the footside and the slanting rows: 45 for torchon, \
                 52 to 70 for point grounds"
            ),
        );
    }

    fn names(&mut self, names: &Spanned<Vec<NameText>>) {
        self.few(names, "names", NAMES);
        for NameText { language, name, source } in names.get_ref() {
            let tag = |c: char| c.is_ascii_alphanumeric() || c == '-';
            let tagged = language.get_ref();
            if tagged.is_empty() || !tagged.chars().all(tag) || tagged.len() > WORD_CHARS {
                let sentence = format!("`{}` is no language", lace::quote(tagged));
                self.fault(language.span(), sentence, "write its short form: en, de, nl, fr");
            }
            self.title(name);
            self.length(source, SENTENCE_CHARS);
        }
    }

    fn title(&mut self, title: &Spanned<String>) {
        if !is_visible(title.get_ref()) {
            self.fault(title.span(), "there is nothing to read here", "write a few words");
        }
        self.length(title, TITLE_CHARS);
    }

    fn length(&mut self, text: &Spanned<String>, most: usize) {
        let long = text.get_ref().chars().count();
        if long > most {
            let sentence = format!("this text has {long} characters; there is room for {most}");
            self.fault(text.span(), sentence, "shorten it");
        }
    }

    fn few<T>(&mut self, list: &Spanned<Vec<T>>, what: &str, most: usize) {
        let number = list.get_ref().len();
        if number > most {
            let sentence = format!("there are {number} {what}; there is room for {most}");
            self.fault(list.span(), sentence, "leave some of them out");
        }
    }
}
