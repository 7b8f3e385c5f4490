//! The gallery in a browser: its pages opened from disk and used with real
//! clicks, keys and touches.

mod chosen;
mod compare;
mod explore;
mod keyboard;
mod pages;
mod print;
mod screenshots;
mod table;
mod touch;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::elements::Element;
use fantoccini::key::Key;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use tokio::time::timeout;

use super::{CLASS, list, string};
use crate::machine;
use crate::support::{pairwise, text};

/// A test that waits longer than this is taken to hang: no machine is this slow.
const PATIENCE: Duration = Duration::from_secs(600);
/// The same for a whole visit.
const VISIT: Duration = Duration::from_secs(3600);

/// A program, by the names under which systems install it.
fn found(names: &[&str]) -> Option<PathBuf> {
    let folders: Vec<PathBuf> = std::env::split_paths(&std::env::var_os("PATH")?).collect();
    names.iter().flat_map(|name| folders.iter().map(move |f| f.join(name))).find(|file| file.is_file())
}

/// Records figures worth knowing that no test can guarantee.
#[allow(clippy::print_stdout, reason = "shown with --nocapture")]
fn measured(what: &str) {
    println!("{what}");
}

/// The WebDriver program. It is ended on drop, so also when a test fails.
struct Driver {
    process: Child,
    /// Kept open, since it goes on writing.
    said: BufReader<ChildStdout>,
}

impl Drop for Driver {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

impl Driver {
    fn started(program: &Path) -> Driver {
        let mut run = Command::new(program);
        // It picks a free port itself and prints which.
        run.arg("--port=0").stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut process = run.spawn().unwrap();
        let said = BufReader::new(process.stdout.take().unwrap());
        Driver { process, said }
    }

    fn port(&mut self) -> String {
        let mut line = String::new();
        while self.said.read_line(&mut line).unwrap() > 0 {
            if let Some((_, port)) = line.split_once("successfully on port ") {
                return port.trim().trim_end_matches('.').to_owned();
            }
            line.clear();
        }
        panic!("chromedriver has not started");
    }

    async fn session(&mut self, browser: &Path) -> Client {
        let flags = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-background-networking",
            "--no-first-run",
            "--window-size=1280,900",
        ];
        let asked = json!({
            "goog:chromeOptions": { "binary": browser, "args": flags },
            "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
            // Checks of accessibility take long on pages of many pictures.
            "timeouts": { "script": VISIT.as_millis() as u64 },
        });
        let mut builder = ClientBuilder::new(hyper_util::client::legacy::connect::HttpConnector::new());
        builder.capabilities(asked.as_object().unwrap().clone());
        builder.connect(&format!("http://127.0.0.1:{}", self.port())).await.unwrap()
    }
}

/// Runs a test in a browser of its own; does nothing if there is no browser.
#[track_caller]
fn visit<T>(steps: impl AsyncFnOnce(&Visit) -> T) -> Option<T> {
    let browser = found(&["chromium", "chromium-browser", "google-chrome"]);
    let driver = found(&["chromedriver"]);
    machine::has("Chromium with chromedriver", browser.is_some() && driver.is_some()).then_some(())?;
    let (browser, driver) = (browser?, driver?);
    let mut driver = Driver::started(&driver);
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let visit = Visit { client: runtime.block_on(driver.session(&browser)) };
    let taken =
        catch_unwind(AssertUnwindSafe(|| runtime.block_on(async { timeout(VISIT, steps(&visit)).await })));
    // The browser ends with its session, whatever happened.
    let closed = runtime.block_on(async { timeout(PATIENCE, visit.client.close()).await });
    let taken = taken.unwrap_or_else(|why| resume_unwind(why));
    closed.expect("the browser closes in time").unwrap();
    Some(taken.expect("all steps are taken in time"))
}

/// A command that only this driver knows.
#[derive(Debug)]
struct Own {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Own {
    fn endpoint(&self, driver: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        driver.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}

/// The address of the gallery's folder.
fn folder() -> String {
    url::Url::from_directory_path(CLASS.place()).unwrap().to_string()
}

/// A browser, with the actions of a visitor.
struct Visit {
    client: Client,
}

impl Visit {
    /// Reloads a page, even if only its address fragment differs.
    async fn open(&self, page: &str) {
        self.client.goto("about:blank").await.unwrap();
        self.client.goto(&format!("{}{page}", folder())).await.unwrap();
    }

    async fn address(&self) -> String {
        self.client.current_url().await.unwrap().to_string()
    }

    /// The value of a script expression in the page.
    async fn ask<T: DeserializeOwned>(&self, expression: &str) -> T {
        let told = self.client.execute(&format!("return ({expression});"), vec![]).await;
        let told = told.unwrap_or_else(|why| panic!("{expression}: {why}"));
        serde_json::from_value(told).unwrap_or_else(|why| panic!("{expression}: {why}"))
    }

    async fn run(&self, script: &str) {
        let run = self.client.execute(script, vec![]).await;
        run.unwrap_or_else(|why| panic!("{script}: {why}"));
    }

    async fn until(&self, condition: &str) {
        let begun = Instant::now();
        while !self.ask::<bool>(condition).await {
            assert!(begun.elapsed() < PATIENCE, "waited in vain until {condition}");
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
    }

    async fn find(&self, place: &str) -> Element {
        let found = self.client.find(Locator::Css(place)).await;
        found.unwrap_or_else(|why| panic!("{place}: {why}"))
    }

    /// Scrolls an element into view, not behind anything that sticks to an edge.
    async fn bring(&self, place: &str) {
        let scrolled = "document.querySelector(arguments[0]).scrollIntoView({ block: 'center' })";
        let scrolled = self.client.execute(scrolled, vec![json!(place)]).await;
        scrolled.unwrap_or_else(|why| panic!("{place}: {why}"));
    }

    async fn sees(&self, place: &str) -> bool {
        self.find(place).await.is_displayed().await.unwrap()
    }

    /// Waits for the page that a link or key leads to.
    async fn reach(&self, page: &str) {
        let there = format!("location.href.startsWith({})", json!(folder() + page));
        self.until(&format!("{there} && document.readyState === 'complete'")).await;
    }

    /// The arrangement, in words.
    async fn hung(&self) -> String {
        self.ask("document.getElementById('hung').textContent").await
    }

    async fn text(&self, place: &str) -> String {
        self.find(place).await.text().await.unwrap()
    }

    async fn click(&self, place: &str) {
        self.bring(place).await;
        self.find(place).await.click().await.unwrap_or_else(|why| panic!("{place}: {why}"));
    }

    /// Types into a field, replacing its contents.
    async fn write(&self, place: &str, what: &str) {
        self.click(place).await;
        self.press(&format!("{}a", Key::Control)).await;
        self.press(&Key::Delete).await;
        self.press_each(what).await;
    }

    /// Chooses a colour. The colour dialogue belongs to the system, out of the
    /// driver's reach, so this sends the page the same events.
    async fn dye(&self, letter: &str, colour: &str) {
        let told = "const well = document.getElementById('colour-' + arguments[0]);
            well.value = arguments[1];
            for (const what of ['input', 'change']) well.dispatchEvent(new Event(what, { bubbles: true }));";
        self.client.execute(told, vec![json!(letter), json!(colour)]).await.unwrap();
    }

    async fn choose(&self, place: &str, value: &str) {
        self.find(place).await.select_by_value(value).await.unwrap_or_else(|why| panic!("{place}: {why}"));
    }

    /// Presses keys together, and lets them go.
    async fn press(&self, keys: &str) {
        let mut all = KeyActions::new("keys".to_owned());
        for value in keys.chars() {
            all = all.then(KeyAction::Down { value });
        }
        for value in keys.chars().rev() {
            all = all.then(KeyAction::Up { value });
        }
        self.client.perform_actions(all).await.unwrap();
    }

    /// Presses keys one after another.
    async fn press_each(&self, keys: &str) {
        for key in keys.chars() {
            self.press(&key.to_string()).await;
        }
    }

    /// A command of the browser's own protocol.
    async fn command(&self, command: &str, how: Value) -> Value {
        let body = json!({ "cmd": command, "params": how });
        self.client.issue_cmd(Own { path: "goog/cdp/execute", body }).await.unwrap()
    }

    /// The size of the screen; windows have a least width.
    async fn screen(&self, width: u32, height: u32, mobile: bool) {
        let how = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": mobile });
        self.command("Emulation.setDeviceMetricsOverride", how).await;
    }

    async fn prefers(&self, feature: &str, value: &str) {
        let how = json!({ "features": [{ "name": feature, "value": value }] });
        self.command("Emulation.setEmulatedMedia", how).await;
    }

    /// Loads all pictures that wait until they are in view.
    async fn read_through(&self) {
        self.run("for (const image of document.images) image.loading = 'eager';").await;
        self.until("[...document.images].every((image) => image.complete && image.naturalWidth > 0)").await;
    }

    /// Log entries since the last call.
    async fn log(&self, kind: &str) -> Vec<Value> {
        let log = self.client.issue_cmd(Own { path: "se/log", body: json!({ "type": kind }) }).await;
        serde_json::from_value(log.unwrap()).unwrap()
    }

    /// The varieties shown, in order.
    async fn shown(&self) -> Vec<String> {
        self.ask("[...document.querySelectorAll('#grid:not([hidden]) > li')].map((li) => li.dataset.name)")
            .await
    }

    /// The pixels painted on a canvas: red, green and blue where it is not empty.
    async fn pixels(&self, canvas: &str) -> Vec<[u8; 3]> {
        let read = "const c = document.querySelector(arguments[0]);
            const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
            let s = '';
            for (let k = 0; k < d.length; k += 8192) s += String.fromCharCode(...d.subarray(k, k + 8192));
            return btoa(s);";
        let read = self.client.execute(read, vec![json!(canvas)]).await.unwrap();
        let read = STANDARD.decode(read.as_str().unwrap()).unwrap();
        read.chunks(4).filter(|p| p[3] == 255).map(|p| [p[0], p[1], p[2]]).collect()
    }

    /// Waits until a canvas shows a picture, pixel for pixel.
    async fn shows(&self, canvas: &str, picture: &[[u8; 3]]) {
        self.bring(canvas).await;
        let begun = Instant::now();
        loop {
            let there = self.pixels(canvas).await;
            if there == picture {
                return;
            }
            if begun.elapsed() > PATIENCE {
                let at = there.iter().zip(picture).position(|(a, b)| a != b);
                let of = at.map(|at| (there[at], picture[at]));
                panic!("{canvas}: {} of {} pixels, {of:?} at {at:?}", there.len(), picture.len());
            }
        }
    }

    /// The same for pictures on the explore page, by variety.
    async fn all_show(&self, pictures: &BTreeMap<String, Vec<[u8; 3]>>) {
        assert!(pictures.len() > 3, "{}", pictures.len());
        for (name, picture) in pictures {
            self.shows(&format!("#grid > li[data-name='{name}'] canvas"), picture).await;
        }
    }
}

/// A picture in a file: its width, and all pixels.
fn png(file: &Path) -> (usize, Vec<[u8; 3]>) {
    let mut decoder = png::Decoder::new(BufReader::new(std::fs::File::open(file).unwrap()));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().unwrap();
    let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut bytes).unwrap();
    assert_eq!(info.color_type, png::ColorType::Rgb, "{file:?}");
    (info.width as usize, bytes.chunks(3).map(|p| [p[0], p[1], p[2]]).collect())
}

/// Small pictures of a few varieties, as the program draws them in an arrangement
/// and colours (each with its #).
fn drawn(order: &str, colours: &[&str], more: &[&str]) -> BTreeMap<String, Vec<[u8; 3]>> {
    let folder = tempfile::tempdir().unwrap();
    let colours = colours.join(",");
    let few = ["grid", "rose/plain", "spider/three", "torchon/plain", "point/plain", "flower/wide"];
    let own = ["--arrangement", order, "--colours", &colours];
    let usual = ["--size", "160", "--page", "20000", "--index", "grid.json"];
    let out = pairwise(folder.path(), &[&few[..], &own, &usual, more].concat());
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let (wide, page) = png(&folder.path().join("grid.png"));
    let index = std::fs::read(folder.path().join("grid.json")).unwrap();
    let index: Value = serde_json::from_slice(&index).unwrap();
    let cell = |cell: &Value| {
        let [x, y, side] = ["x", "y", "width"].map(|what| cell[what].as_u64().unwrap() as usize);
        let picture = (0..side * side).map(|at| page[(y + at / side) * wide + x + at % side]);
        (format!("{}/{}", string(cell, "ground"), string(cell, "variety")), picture.collect())
    };
    list(&index, "cells").iter().map(cell).collect()
}
