//! Hand-written contributions in which every byte of an answer can be wrong. The
//! code is WebAssembly text; answers are laid out in memory by the Canonical ABI
//! of the component model.

#![allow(dead_code, reason = "each test program uses only part of it")]

use sandbox::{Plugin, Sandbox, SandboxError, Source};
use wit_component::StringEncoding;
use wit_parser::Resolve;

/// Where answers start in a contribution's memory.
const BASE: u32 = 4096;

/// A block of memory being written.
pub struct Memory {
    bytes: Vec<u8>,
}

/// An address to write to or point to.
pub type At = u32;

impl Memory {
    pub fn new() -> Memory {
        Memory { bytes: Vec::new() }
    }

    /// Room for `size` bytes, aligned to 8.
    pub fn room(&mut self, size: usize) -> At {
        self.bytes.resize(self.bytes.len().next_multiple_of(8), 0);
        let at = BASE + self.bytes.len() as u32;
        self.bytes.resize(self.bytes.len() + size, 0);
        at
    }

    pub fn set(&mut self, at: At, bytes: &[u8]) {
        let from = (at - BASE) as usize;
        self.bytes[from..from + bytes.len()].copy_from_slice(bytes);
    }

    pub fn set_u32(&mut self, at: At, value: u32) {
        self.set(at, &value.to_le_bytes());
    }

    pub fn set_f64(&mut self, at: At, value: f64) {
        self.set(at, &value.to_le_bytes());
    }

    /// Writes a list header: the address of its elements and their number.
    pub fn set_list(&mut self, at: At, elements: At, count: usize) {
        self.set_u32(at, elements);
        self.set_u32(at + 4, count as u32);
    }

    pub fn set_bytes(&mut self, at: At, text: &[u8]) {
        let place = self.room(text.len());
        self.set(place, text);
        self.set_list(at, place, text.len());
    }

    pub fn set_text(&mut self, at: At, text: &str) {
        self.set_bytes(at, text.as_bytes());
    }
}

/// A contribution's description, with fields for a test to change.
#[derive(Clone)]
pub struct Description {
    pub id: Vec<u8>,
    pub title: String,
    pub family: String,
    pub notes: String,
    pub angle: f64,
    /// Read by versions from 0.2.0 on.
    pub pin_spacing: Option<f64>,
    /// Read only by version 0.3.0, which exists for tests.
    pub level: u32,
    pub languages: Vec<String>,
    /// Id and options.
    pub choices: Vec<(String, Options)>,
    /// Id and settings.
    pub varieties: Vec<(String, Vec<(String, Set)>)>,
}

#[derive(Clone)]
pub enum Options {
    Named(Vec<String>, Set),
    Count(i32, i32, Set),
}

#[derive(Clone)]
pub enum Set {
    Named(String),
    Count(i32),
}

impl Description {
    pub fn plain() -> Description {
        Description {
            id: b"hostile".to_vec(),
            title: "Hostile ground".into(),
            family: "hostile".into(),
            notes: String::new(),
            angle: 45.0,
            pin_spacing: None,
            level: 0,
            languages: Vec::new(),
            choices: Vec::new(),
            varieties: vec![("plain".into(), Vec::new())],
        }
    }

    /// Writes it as a version of the interface reads it.
    fn write(&self, m: &mut Memory, version: &str) -> At {
        // Eight bytes more than version 0.2.0 reads: later versions may add a
        // number.
        let at = m.room(120);
        // Where the fields after the pin spacing begin.
        let then = if version == "0.1.0" { at + 64 } else { at + 80 };
        if version != "0.1.0"
            && let Some(spacing) = self.pin_spacing
        {
            m.set_u32(at + 64, 1);
            m.set_f64(at + 72, spacing);
        }
        m.set_u32(then + 32, self.level);
        m.set_bytes(at, &self.id);
        m.set_text(at + 8, &self.title);
        m.set_text(at + 20, &self.family);
        m.set_f64(at + 56, self.angle);
        m.set_text(then, &self.notes);
        m.set_text(then + 8, "a test");
        let names = m.room(24 * self.languages.len());
        for (n, language) in (0..).zip(&self.languages) {
            m.set_text(names + 24 * n, language);
            m.set_text(names + 24 * n + 8, "another name");
        }
        m.set_list(at + 28, names, self.languages.len());
        let choices = m.room(40 * self.choices.len());
        for (n, (id, options)) in (0..).zip(&self.choices) {
            let choice = choices + 40 * n;
            m.set_text(choice, id);
            m.set_text(choice + 8, "a choice");
            match options {
                Options::Named(ids, default) => {
                    m.set_u32(choice + 16, 0);
                    let list = m.room(16 * ids.len());
                    for (o, id) in (0..).zip(ids) {
                        m.set_text(list + 16 * o, id);
                        m.set_text(list + 16 * o + 8, "an option");
                    }
                    m.set_list(choice + 20, list, ids.len());
                    default.write(m, choice + 28);
                }
                Options::Count(least, most, default) => {
                    m.set_u32(choice + 16, 1);
                    m.set_u32(choice + 20, *least as u32);
                    m.set_u32(choice + 24, *most as u32);
                    default.write(m, choice + 28);
                }
            }
        }
        m.set_list(then + 16, choices, self.choices.len());
        let varieties = m.room(48 * self.varieties.len());
        for (n, (id, settings)) in (0..).zip(&self.varieties) {
            let variety = varieties + 48 * n;
            m.set_text(variety, id);
            m.set_text(variety + 8, "a variety");
            let list = m.room(20 * settings.len());
            for (s, (choice, value)) in (0..).zip(settings) {
                m.set_text(list + 20 * s, choice);
                value.write(m, list + 20 * s + 8);
            }
            m.set_list(variety + 24, list, settings.len());
        }
        m.set_list(then + 24, varieties, self.varieties.len());
        at
    }
}

impl Set {
    fn write(&self, m: &mut Memory, at: At) {
        match self {
            Set::Named(id) => {
                m.set_u32(at, 0);
                m.set_text(at + 4, id);
            }
            Set::Count(count) => {
                m.set_u32(at, 1);
                m.set_u32(at + 4, *count as u32);
            }
        }
    }
}

/// A contribution's repeat, with fields for a test to change.
#[derive(Clone)]
pub struct Answer {
    pub across: (f64, f64),
    pub stitches: Vec<(String, Vec<u8>)>,
    /// From, side, to, side.
    pub legs: Vec<(u32, u8, u32, u8)>,
    pub twists: u32,
}

impl Answer {
    /// Torchon: one stitch, two legs.
    pub fn plain() -> Answer {
        Answer {
            across: (1.0, 1.0),
            stitches: vec![("pin".into(), vec![0, 1, 6, 0, 1])],
            legs: vec![(0, 0, 0, 1), (0, 1, 0, 0)],
            twists: 0,
        }
    }

    fn write(&self, m: &mut Memory) -> At {
        let at = m.room(56);
        m.set_f64(at + 8, self.across.0);
        m.set_f64(at + 16, self.across.1);
        m.set_f64(at + 24, -1.0);
        m.set_f64(at + 32, 1.0);
        let stitches = m.room(40 * self.stitches.len());
        for (n, (id, work)) in (0..).zip(&self.stitches) {
            m.set_text(stitches + 40 * n, id);
            m.set_bytes(stitches + 40 * n + 32, work);
        }
        m.set_list(at + 40, stitches, self.stitches.len());
        let legs = m.room(28 * self.legs.len());
        for (n, &(from, from_side, to, to_side)) in (0..).zip(&self.legs) {
            let leg = legs + 28 * n;
            m.set_u32(leg, from);
            m.set(leg + 4, &[from_side]);
            m.set_u32(leg + 8, to);
            m.set(leg + 12, &[to_side]);
            m.set_u32(leg + if from_side == 0 { 20 } else { 16 }, 1);
            m.set_u32(leg + 24, self.twists);
        }
        m.set_list(at + 48, legs, self.legs.len());
        at
    }
}

/// A contribution as text.
pub struct Text {
    pub description: Description,
    pub answer: Answer,
    /// Code before `about` and `define` answer.
    pub about: String,
    pub define: String,
    /// Fields of the module.
    pub fields: String,
    /// Pages of memory.
    pub pages: u32,
    /// The version of the interface it exports.
    pub version: &'static str,
}

impl Text {
    pub fn plain() -> Text {
        Text {
            description: Description::plain(),
            answer: Answer::plain(),
            about: String::new(),
            define: String::new(),
            fields: String::new(),
            pages: 32,
            version: "0.2.0",
        }
    }

    pub fn about(code: &str) -> Text {
        Text { about: code.into(), ..Text::plain() }
    }

    pub fn define(code: &str) -> Text {
        Text { define: code.into(), ..Text::plain() }
    }

    pub fn fields(fields: &str) -> Text {
        Text { fields: fields.into(), ..Text::plain() }
    }

    pub fn describing(change: impl FnOnce(&mut Description)) -> Text {
        let mut text = Text::plain();
        change(&mut text.description);
        text
    }

    pub fn answer(change: impl FnOnce(&mut Answer)) -> Text {
        let mut text = Text::plain();
        change(&mut text.answer);
        text
    }

    /// The core module, carrying the interface.
    pub fn core(&self) -> Vec<u8> {
        let mut memory = Memory::new();
        let description = self.description.write(&mut memory, self.version);
        let answer = self.answer.write(&mut memory);
        self.core_with(&memory, description, answer)
    }

    /// The core module with answers laid out by the test.
    pub fn core_with(&self, memory: &Memory, description: At, answer: At) -> Vec<u8> {
        let data: String = memory.bytes.iter().map(|byte| format!("\\{byte:02x}")).collect();
        let Text { about, define, fields, pages, version, .. } = self;
        let text = format!(
            r#"(module
                (memory (export "memory") {pages})
                (global $top (mut i32) (i32.const 1024))
                (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
                    (local $at i32)
                    (local.set $at (i32.and (i32.add (global.get $top) (i32.const 7)) (i32.const -8)))
                    (global.set $top (i32.add (local.get $at) (local.get 3)))
                    (local.get $at))
                (func $about (export "pairwise:ground/ground@{version}#about") (result i32)
                    {about} (i32.const {description}))
                (func $define (export "pairwise:ground/ground@{version}#define") (param i32 i32) (result i32)
                    {define} (i32.const {answer}))
                {fields}
                (data (i32.const {BASE}) "{data}"))"#
        );
        let core = wat::parse_str(text).expect("the test's own text");
        carrying_version(&core, version)
    }

    pub fn load(&self) -> Result<Plugin, SandboxError> {
        load(self.core())
    }

    /// Loads it and defines the usual variety.
    pub fn ask(&self) -> Result<lace::Repeat, SandboxError> {
        let plugin = self.load()?;
        plugin.define(&plugin.about.resolve(None, &[])?)
    }
}

/// Adds the first version of the interface to a core module.
pub fn carrying(core: &[u8]) -> Vec<u8> {
    carrying_version(core, "0.1.0")
}

/// Adds a version of the interface to a core module.
pub fn carrying_version(core: &[u8], version: &str) -> Vec<u8> {
    let wit = match version {
        "0.1.0" => include_str!("../../../../sdk/wit/0.1.0/ground.wit"),
        "0.2.0" => include_str!("../../../../sdk/wit/0.2.0/ground.wit"),
        _ => include_str!("../data/wit-0.3.0/ground.wit"),
    };
    carrying_interface(core, wit)
}

pub fn carrying_interface(core: &[u8], wit: &str) -> Vec<u8> {
    let mut resolve = Resolve::default();
    let package = resolve.push_str("ground.wit", wit).unwrap();
    let world = resolve.select_world(&[package], Some("contribution")).unwrap();
    let mut core = core.to_vec();
    wit_component::embed_component_metadata(&mut core, &resolve, world, StringEncoding::UTF8).unwrap();
    core
}

pub fn source(name: &str, bytes: Vec<u8>) -> Source {
    Source::Bytes { name: name.into(), bytes: bytes.into() }
}

pub fn load(bytes: Vec<u8>) -> Result<Plugin, SandboxError> {
    Sandbox::new(None).unwrap().load(&source("hostile.wasm", bytes))
}

/// A good contribution, built from its crate.
pub fn torchon() -> Vec<u8> {
    std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/../../plugins/built/torchon.wasm")).unwrap()
}
