//! Records in UDDF, the open exchange format of dive logs, version 3.
//!
//! Elements as in UDDF 3.2, by the names of its sections, cited from memory: `<diver>` (`<owner>`,
//! `<personal>`, `<firstname>`, `<lastname>`), `<gasdefinitions>` (`<mix>` with `<o2>`, `<he>`,
//! `<n2>`, `<ar>`, `<h2>` as fractions), `<profiledata>` (`<repetitiongroup>`, `<dive>`),
//! `<informationbeforedive>` (`<datetime>`), `<samples>` (`<waypoint>` with `<divetime>` in
//! seconds, `<depth>` in metres, `<tankpressure>` in pascals, `<switchmix>`) and `<tankdata>`
//! (`<tankpressurebegin>`, `<tankpressureend>` in pascals). All others are passed over.

mod dive;
mod element;
mod gases;
mod value;
mod xml;

use std::io::Read;

use crate::letters::{composed, may_be_shown};
use crate::rules::ranges::LONGEST_NAME;

use super::log::{MOST_READINGS, RecordError, SampledLog};
use super::words::quoted;
use dive::{Dive, Logged};
use element::Element;
use gases::Gases;
use value::Value;
use xml::{Piece, Tag, Xml};

/// Longest word or number, in bytes.
const MOST_TEXT: usize = 1024;

/// Reads every dive of a UDDF file that has a waypoint, in the order of the file.
///
/// Pressures are taken as gauge pressures, as a diver reads them. The main cylinder is the first
/// that a waypoint of the dive names, or the one without a name; others say nothing here. Where no
/// waypoint has a pressure, those of the first `<tankdata>` count at the first and last waypoint.
/// Prefixes of namespaces do not matter. Memory stays small whatever is read.
///
/// # Errors
/// [`RecordError`] for the first thing that cannot be used: XML that is ill-formed or breaks off, a
/// DOCTYPE or an entity of one's own, another root or version, a waypoint without time or depth,
/// times that do not grow, depths outside -1 m to 200 m, pressures outside 0 to 450 bar, over 24 h,
/// impossible gases, a switch to a gas that is not defined, a dive that never goes under water,
/// more than [`MOST_READINGS`] waypoints in all, or no dive.
///
/// # Example
/// ```
/// use hangbar::record::read_uddf;
/// let text = r#"<uddf version="3.2.0"><profiledata><repetitiongroup><dive><samples>
///   <waypoint><divetime>0</divetime><depth>0</depth></waypoint>
///   <waypoint><divetime>120</divetime><depth>18.2</depth></waypoint>
/// </samples></dive></repetitiongroup></profiledata></uddf>"#;
/// let logs = read_uddf(text.as_bytes())?;
/// assert_eq!(logs[0].readings[1].time.as_min(), 2.0);
///
/// let half = &text.as_bytes()[..200];
/// assert!(read_uddf(half).unwrap_err().line.is_some());
/// # Ok::<(), hangbar::record::RecordError>(())
/// ```
pub fn read_uddf(input: impl Read) -> Result<Vec<SampledLog>, RecordError> {
    let mut xml = Xml::new(input);
    let mut file = File::default();
    loop {
        let (line, piece) = xml.next()?;
        match piece {
            Piece::Open(tag) => file.open(&tag, line)?,
            Piece::Text(text) => file.add_text(&text)?,
            Piece::Close => file.close()?,
            Piece::Nothing => {}
            Piece::End => return file.finish(),
        }
    }
}

/// What a file came to so far.
#[derive(Default)]
struct File {
    /// The elements that are open, and where they begin.
    path: Vec<(Element, u64)>,
    /// Name and text of the element that holds a word or a number.
    name: String,
    text: String,
    first_name: Option<String>,
    last_name: Option<String>,
    gases: Gases,
    dive: Option<Dive>,
    /// How many dives there were, and how many readings.
    dives: usize,
    readings: usize,
    logged: Vec<Logged>,
}

impl File {
    fn open(&mut self, tag: &Tag<'_>, line: u64) -> Result<(), RecordError> {
        let parent = self.path.last().map(|(element, _)| *element);
        let element = Element::within(parent, tag.name());
        if parent.is_some_and(Element::holds_text) {
            let message = format!("{} stands within `{}`", quoted(tag.name()), self.name);
            let accepted = "a word or a number there, no element";
            return Err(RecordError::new(Some(line), message, accepted).about(self.name.as_str()));
        }
        if parent.is_none() {
            check_root(element, tag, line)?;
        }
        if element.holds_text() {
            self.name.clear();
            self.name.push_str(tag.name());
            self.text.clear();
        }
        self.path.push((element, line));
        match (element, &mut self.dive) {
            (Element::Dive, _) => {
                self.dives += 1;
                self.dive = Some(Dive::new(self.dives, line, MOST_READINGS - self.readings));
            }
            (Element::Waypoint, Some(dive)) => dive.begin_waypoint(line),
            (Element::TankData, Some(dive)) => dive.begin_tank(),
            (Element::TankPressure, Some(dive)) => {
                dive.begin_pressure(tag.attribute("ref").as_deref());
            }
            (Element::SwitchMix, Some(dive)) => {
                let value = Value {
                    element: "switchmix",
                    line,
                    text: "",
                };
                let Some(id) = tag.attribute("ref") else {
                    let message = "`switchmix` has no `ref`".to_owned();
                    return Err(value.refuse(message, "the id of a `mix`, as ref=\"air\""));
                };
                dive.switch(self.gases.number(&id, line)?, value)?;
            }
            (Element::Mix, _) => self.gases.begin(tag.attribute("id").as_deref(), line),
            _ => {}
        }
        Ok(())
    }

    fn add_text(&mut self, text: &str) -> Result<(), RecordError> {
        let Some((element, line)) = self.path.last() else {
            return Ok(());
        };
        if !element.holds_text() {
            return Ok(());
        }
        self.text.push_str(text);
        if self.text.len() <= MOST_TEXT {
            return Ok(());
        }
        let message = format!("`{}` holds more than {MOST_TEXT} bytes", self.name);
        let accepted = "a word or a number";
        Err(RecordError::new(Some(*line), message, accepted).about(self.name.as_str()))
    }

    fn close(&mut self) -> Result<(), RecordError> {
        let Some((element, line)) = self.path.pop() else {
            return Ok(());
        };
        let value = Value {
            element: &self.name,
            line,
            text: &self.text,
        };
        match element {
            Element::FirstName => set_name(&mut self.first_name, value),
            Element::LastName => set_name(&mut self.last_name, value),
            Element::Oxygen | Element::Helium | Element::Nitrogen | Element::OtherGas => {
                self.gases.set(element, value)
            }
            Element::Mix => self.gases.end(),
            Element::Waypoint => self.dive.as_mut().map_or(Ok(()), Dive::end_waypoint),
            Element::Dive => self.end_dive(),
            _ if element.holds_text() => {
                let dive = self.dive.as_mut();
                dive.map_or(Ok(()), |dive| dive.set(element, value))
            }
            _ => Ok(()),
        }
    }

    fn end_dive(&mut self) -> Result<(), RecordError> {
        let logged = self.dive.take().map(Dive::finish).transpose()?;
        if let Some(logged) = logged.flatten() {
            self.readings += logged.log.readings.len();
            self.logged.push(logged);
        }
        Ok(())
    }

    fn finish(self) -> Result<Vec<SampledLog>, RecordError> {
        let names = [self.first_name, self.last_name];
        let names: Vec<String> = names
            .into_iter()
            .flatten()
            .filter(|name| !name.is_empty())
            .collect();
        let diver = names.join(" ");
        let diver = (!diver.is_empty()).then_some(diver);
        if self.logged.is_empty() {
            let message = "the file has no dive with a waypoint";
            let accepted = "a `dive` with its `samples` in `profiledata/repetitiongroup`";
            return Err(RecordError::new(None, message, accepted).about("dive"));
        }
        let mut logs = Vec::with_capacity(self.logged.len());
        for Logged { mut log, switches } in self.logged {
            for (index, number) in switches {
                let gas = self.gases.mix(number)?;
                if let Some(reading) = log.readings.get_mut(index) {
                    reading.gas = Some(gas);
                }
            }
            log.diver.clone_from(&diver);
            logs.push(log);
        }
        Ok(logs)
    }
}

fn check_root(element: Element, tag: &Tag<'_>, line: u64) -> Result<(), RecordError> {
    if element != Element::Uddf {
        let message = format!("the XML is {}, not `uddf`", quoted(tag.name()));
        return Err(RecordError::new(Some(line), message, "UDDF, version 3").about("uddf"));
    }
    let version = tag.attribute("version").unwrap_or_default();
    let rest = version.trim().strip_prefix('3');
    if rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.')) {
        return Ok(());
    }
    let message = match version.trim() {
        "" => "the UDDF does not say its version".to_owned(),
        version => format!("the UDDF is of version {}", quoted(version)),
    };
    Err(RecordError::new(Some(line), message, "version 3, as version=\"3.2.0\"").about("uddf"))
}

/// A part of a name that the names of a plan may have.
fn set_name(place: &mut Option<String>, value: Value<'_>) -> Result<(), RecordError> {
    let name = composed(&value.text.split_whitespace().collect::<Vec<_>>().join(" "));
    if name.chars().count() > LONGEST_NAME || !name.chars().all(may_be_shown) {
        let message = format!("{} cannot be the name of a diver", quoted(&name));
        let accepted = format!(
            "up to {LONGEST_NAME} characters, none of them a control character or one that nobody sees"
        );
        return Err(value.refuse(message, &accepted));
    }
    value.once(place, name)
}
