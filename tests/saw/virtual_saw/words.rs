//! The printed sheet as orders: its sentences word by word. One that is not known ends the reading.

use super::by_stop::{self, Ways};
use super::saw::{Hand, Lay, Order, Side, Thing};
use lapwright::instructions::sheet::{Block, Figure, Section, SetupSheet};
use lapwright::phrase::Phrase;
use lapwright::units::UnitSystem;

pub type Read<T> = Result<T, String>;

/// What is left of a sentence.
pub struct Sentence<'a> {
    whole: &'a str,
    rest: &'a str,
}

impl<'a> Sentence<'a> {
    pub fn new(whole: &'a str) -> Self {
        Sentence { whole, rest: whole }
    }

    pub fn takes(&mut self, words: &str) -> bool {
        let rest = self.rest.strip_prefix(words);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    pub fn wants(&mut self, words: &str) -> Read<()> {
        if self.takes(words) {
            return Ok(());
        }
        Err(format!(
            "`{words}` wanted at `{}` of `{}`",
            self.rest, self.whole
        ))
    }

    /// One of several, by what they mean.
    fn one_of<T: Copy>(&mut self, known: &[(&str, T)]) -> Read<T> {
        let found = known.iter().find(|(words, _)| self.takes(words));
        found
            .map(|(_, meaning)| *meaning)
            .ok_or(format!("`{}` of `{}`", self.rest, self.whole))
    }

    fn figure(&mut self) -> Read<f64> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.');
        let (digits, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        self.rest = rest;
        (digits.parse())
            .map_err(|_| format!("a figure wanted at `{digits}{rest}` of `{}`", self.whole))
    }

    pub fn mm(&mut self) -> Read<f64> {
        let figure = self.figure()?;
        self.wants(" mm")?;
        Ok(figure)
    }

    pub fn count(&mut self) -> Read<usize> {
        let figure = self.figure()?;
        format!("{figure}")
            .parse()
            .map_err(|_| format!("{figure} is no count"))
    }

    pub fn end(&mut self) -> Read<()> {
        if self.rest.is_empty() {
            return Ok(());
        }
        Err(format!("`{}` is left of `{}`", self.rest, self.whole))
    }
}

pub fn text(phrase: &Phrase) -> String {
    phrase.text(UnitSystem::Millimetres)
}

/// The saw's orders from a sheet.
pub fn orders(sheet: &SetupSheet, powered: bool, counts: &[usize]) -> Read<Vec<Order>> {
    let mut reader = Reader {
        powered,
        counts,
        orders: vec![Order::Fence(None)],
        heard: None,
        same: Vec::new(),
        step: 0.0,
        ways: Vec::new(),
    };
    for section in &sheet.sections {
        reader.section(section)?;
    }
    Ok(reader.orders)
}

struct Reader<'a> {
    powered: bool,
    /// Strips of each bundle.
    counts: &'a [usize],
    orders: Vec<Order>,
    /// The bundle that the steps to come are for, and those that are cut with it.
    heard: Option<(usize, Vec<usize>)>,
    /// How the last notch by the stop was cut: what "the same" means.
    same: Vec<Order>,
    /// By stops: how blocks are stepped, and how notches are cut, setting by setting.
    step: f64,
    ways: Vec<Ways>,
}

impl Reader<'_> {
    fn section(&mut self, section: &Section) -> Read<()> {
        let heading = section.heading.as_str();
        let by_stop = heading == "Work, stop by stop";
        let works = by_stop || heading.starts_with("Setting ") || heading.starts_with("Bundle ");
        if by_stop || heading.starts_with("Setting ") {
            self.ways.push(Ways::default());
        }
        if let Some(rest) = heading.strip_prefix("Bundle ") {
            self.heard = Some((Sentence::new(rest).count()?, Vec::new()));
        }
        for block in &section.blocks {
            match block {
                Block::Figures(figures) => {
                    for figure in figures {
                        self.figure(figure)?;
                    }
                }
                Block::Table(table) if by_stop || heading.starts_with("Setting ") => {
                    let ways = self.ways.last().ok_or("a table of no setting")?;
                    self.orders.extend(by_stop::orders(table, ways, self.step)?);
                }
                Block::Remarks(remarks) if by_stop || heading.starts_with("Setting ") => {
                    for remark in remarks {
                        self.remark(&text(remark))?;
                    }
                }
                Block::Steps(steps) if works => {
                    let mut laid = false;
                    for step in steps {
                        let step = text(step);
                        let sentence = &mut Sentence::new(&step);
                        if self.set(sentence)? || self.all_are_laid(sentence)? {
                            sentence.end()?;
                            continue;
                        }
                        match laid {
                            false => self.lay(sentence)?,
                            true => self.cut(sentence)?,
                        }
                        laid = true;
                        sentence.end()?;
                    }
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// The height of the key; blade and fence are set by the steps, which stand for themselves.
    fn figure(&mut self, figure: &Figure) -> Read<()> {
        let value = Phrase(vec![figure.value.clone()]).text(UnitSystem::Millimetres);
        let sentence = &mut Sentence::new(&value);
        if figure.name == "height of the key" {
            let words = text(&figure.measured);
            Sentence::new(&words).wants("less than this over the base")?;
            self.orders.push(Order::KeyHeight(sentence.mm()?));
        }
        Ok(())
    }

    /// Remarks of a setting that say what to do; others tell how things lie.
    fn remark(&mut self, words: &str) -> Read<()> {
        let sentence = &mut Sentence::new(words);
        if sentence.takes("Before you set the fence, take ") {
            sentence.wants("the key out.")?;
            self.orders.push(Order::Take(Thing::Key));
        } else if sentence.takes("Bundle ") {
            let bundle = sentence.count()?;
            self.heard = Some((bundle, Vec::new()));
        } else if sentence.takes("Round ") {
            sentence.count()?;
            sentence.wants(", ")?;
            sentence.one_of(&[("front", ()), ("back", ())])?;
            sentence.wants(" faces:")?;
            sentence.end()?;
            self.orders.push(Order::ClampAnew);
        } else if let Some(ways) = self.ways.last_mut() {
            ways.hear(words)?;
        }
        Ok(())
    }

    /// By stops: how all blocks are laid, and in which order rows are gone through.
    fn all_are_laid(&mut self, sentence: &mut Sentence<'_>) -> Read<bool> {
        if sentence.takes("As in setting ") {
            let known = sentence.count()?;
            let ways = self.ways.get(known - 1).cloned();
            sentence.wants(", go down the table.")?;
            *self.ways.last_mut().ok_or("no setting")? = ways.ok_or("no such setting")?;
            return Ok(true);
        }
        if sentence.takes("Go down the table. Set what a row names once, ") {
            sentence.wants(
                "cut all blocks of that row and of the rows under it that name nothing, and only then go on: strips \
                 that are cut at one setting share its error, which helps the panel to close.",
            )?;
            return Ok(true);
        }
        if sentence.takes("Lay one strip at a time along the fence, the face that the table names ")
        {
            sentence.wants(if self.powered { "down, " } else { "up, " })?;
            sentence.wants("datum end to the left; mark the datum ends.")?;
            self.step = 0.0;
            self.orders.push(Order::ClampAnew);
            return Ok(true);
        }
        if !sentence.takes("Clamp or tape the strips of each bundle into rigid blocks, ") {
            return Ok(false);
        }
        sentence.wants("as many in each as the table says, the face that it names ")?;
        sentence.wants(if self.powered { "down, " } else { "up, " })?;
        self.step = 0.0;
        if !sentence.takes("datum ends flush") {
            sentence.wants("each strip ")?;
            let by = sentence.mm()?;
            sentence.wants(" to the ")?;
            self.step = by * sentence.one_of(&[("left", -1.0), ("right", 1.0)])?;
            sentence.wants(" of its neighbour at the fence")?;
        }
        sentence.wants("; mark the datum ends.")?;
        sentence.takes(" Lay one strip at a time where it says single.");
        self.orders.push(Order::ClampAnew);
        Ok(true)
    }

    /// What is set before anything is laid.
    fn set(&mut self, sentence: &mut Sentence<'_>) -> Read<bool> {
        if sentence.takes("Make the test cuts under Check first.") {
            return Ok(true);
        }
        let powered = sentence.takes("Set the blade ");
        if !powered && !sentence.takes("Set the saw's depth stop to ") {
            return Ok(false);
        }
        self.orders.push(Order::Blade(sentence.mm()?));
        if powered {
            sentence.wants(" over the base")?;
        }
        if sentence.takes(" (before: ") {
            sentence.mm()?;
            sentence.wants(")")?;
        } else {
            sentence.takes(" (as it stands)");
        }
        sentence.wants(", the fence ")?;
        if sentence.takes("square.") {
            self.orders.push(Order::Fence(None));
        } else if !sentence.takes("as it stands.") {
            let turn = sentence.figure()?.to_radians();
            sentence.wants(" deg from square, ")?;
            let end = sentence.one_of(&[("left", Hand::Left), ("right", Hand::Right)])?;
            sentence.wants(" ends away from you.")?;
            self.orders.push(Order::Fence(Some((turn, end))));
        }
        Ok(true)
    }

    fn lay(&mut self, sentence: &mut Sentence<'_>) -> Read<()> {
        let (bundle, _) = self.heard.clone().ok_or("steps of no bundle")?;
        let faces = [("front face ", "front"), ("back face ", "back")];
        let down = if self.powered { "down" } else { "up" };
        let mut step = 0.0;
        let (per_block, face) = if sentence.takes("Lay one strip at a time along the fence, ") {
            let face = sentence.one_of(&faces)?;
            if !sentence.takes("toward the blade") {
                sentence.wants(down)?;
                sentence.wants(", datum end to the left")?;
            }
            (1, face)
        } else {
            sentence.wants("Clamp or tape ")?;
            let strips = sentence.count()?;
            sentence.wants(" strips into one rigid block, ")?;
            let flush = sentence.takes("datum ends flush, ");
            let face = sentence.one_of(&faces)?;
            if flush {
                sentence.wants("toward the blade")?;
            } else {
                sentence.wants(down)?;
                sentence.wants(", ")?;
                if !sentence.takes("datum ends flush") {
                    sentence.wants("each strip ")?;
                    let by = sentence.mm()?;
                    sentence.wants(" to the ")?;
                    step = by * sentence.one_of(&[("left", -1.0), ("right", 1.0)])?;
                    sentence.wants(" of its neighbour at the fence")?;
                }
            }
            (strips, face)
        };
        sentence.wants("; mark the datum end.")?;
        let (blocks, with) = self.all_blocks(sentence, per_block)?;
        self.orders.push(Order::ClampAnew);
        self.orders.push(Order::Lay(Lay {
            bundle,
            with,
            per_block,
            blocks,
            face: face.to_owned(),
            step,
        }));
        Ok(())
    }

    fn all_blocks(
        &self,
        sentence: &mut Sentence<'_>,
        per_block: usize,
    ) -> Read<(usize, Vec<usize>)> {
        if !sentence.takes(" ") {
            return Ok((1, Vec::new()));
        }
        let blocks = sentence.count()?;
        let noun = if per_block < 2 { " strip" } else { " block" };
        sentence.wants(noun)?;
        if blocks > 1 {
            sentence.wants("s")?;
        }
        let mut with = Vec::new();
        if sentence.takes(", and those of bundle") {
            let several = sentence.takes("s");
            sentence.wants(" ")?;
            with.push(sentence.count()?);
            while several && sentence.takes(" and ") {
                with.push(sentence.count()?);
            }
        }
        sentence.wants(": cut all of them before you move ")?;
        sentence.one_of(&[
            ("the stop.", ()),
            ("stop or key.", ()),
            ("stop or spacers.", ()),
            ("stop, spacers or key.", ()),
        ])?;
        if with.iter().any(|twin| *twin > self.counts.len()) {
            return Err(format!("no bundles {with:?}"));
        }
        Ok((blocks, with))
    }

    fn cut(&mut self, sentence: &mut Sentence<'_>) -> Read<()> {
        while sentence.takes("Take ") {
            let thing = sentence.one_of(&[
                ("the key out. ", Thing::Key),
                ("the spacers out. ", Thing::Spacers),
                ("the stop away or slide it clear. ", Thing::Stop),
            ])?;
            self.orders.push(Order::Take(thing));
        }
        sentence.wants("Notch ")?;
        sentence.count()?;
        sentence.wants(": ")?;
        if sentence.takes("the same with the stop's face at ") {
            self.orders.push(Order::SetStop(sentence.mm()?));
            sentence.wants(".")?;
            self.orders.extend(self.same.clone());
            return Ok(());
        }
        self.same.clear();
        if sentence.takes("set the stop's face ") {
            self.orders.push(Order::SetStop(sentence.mm()?));
            sentence.wants(" from the near side of the kerf")?;
            if sentence.takes("; push the datum end against it and cut") {
                self.same = self.passes(sentence)?;
                self.orders.extend(self.same.clone());
            } else {
                sentence.wants(", ")?;
                self.spacers(sentence)?;
                let passes = self.passes(sentence)?;
                self.orders.extend(passes);
            }
        } else if sentence.takes("the stop stays; ") {
            self.orders.push(Order::StopStays);
            self.spacers(sentence)?;
            self.orders.push(Order::CutAtEnd);
        } else {
            self.on_key(sentence)?;
        }
        sentence.wants(".")?;
        bearing(sentence)
    }

    fn spacers(&mut self, sentence: &mut Sentence<'_>) -> Read<()> {
        sentence.wants("spacers of ")?;
        self.orders.push(Order::Spacers(sentence.mm()?));
        sentence.wants(" between it and the datum end; push home and cut")
    }

    /// All cuts of a notch by the stop, which is set for the first.
    fn passes(&self, sentence: &mut Sentence<'_>) -> Read<Vec<Order>> {
        let mut cuts = vec![Order::CutAtEnd];
        if sentence.takes(" one wall; move the stop ") {
            cuts.extend([
                Order::MoveStop(sentence.mm()?),
                Order::CutAtEnd,
                Order::Pare,
            ]);
            sentence.wants(" farther and saw the other; pare out the waste")?;
        } else if sentence.takes(", then move the stop ") {
            cuts.extend([Order::MoveStop(sentence.mm()?), Order::CutAtEnd]);
            sentence.wants(" farther and cut again")?;
        } else if sentence.takes(", then ") {
            let more = sentence.count()?;
            sentence.wants(" more, the stop moved ")?;
            let by = sentence.mm()?;
            sentence.wants(" farther each time")?;
            for _ in 0..more {
                cuts.extend([Order::MoveStop(by), Order::CutAtEnd]);
            }
        }
        Ok(cuts)
    }

    fn on_key(&mut self, sentence: &mut Sentence<'_>) -> Read<()> {
        sentence.wants("key in the ")?;
        self.orders.push(Order::Key(sentence.mm()?));
        sentence.wants(" slot; drop notch ")?;
        let on = sentence.count()?;
        sentence.wants(" over it and cut")?;
        let cut = |side| Order::CutOnKey { on, side };
        if sentence.takes(", once with the notch pushed to each side of the key") {
            self.orders.extend([cut(Side::Right), cut(Side::Left)]);
            if sentence.takes(", then midway between, by eye, within ") {
                self.orders.push(cut(Side::Midway(sentence.mm()?)));
                sentence.wants(": only waste is left there")?;
            }
        } else {
            self.orders.push(cut(Side::Fits));
        }
        Ok(())
    }
}

/// What is said of walls that are cut away in part.
fn bearing(sentence: &mut Sentence<'_>) -> Read<()> {
    if sentence.takes(" Of notch ") {
        sentence.count()?;
        sentence.wants("'s walls ")?;
        sentence.count()?;
        sentence.wants(
            " % bear on the key, the rest is cut away: press it home gently, or use the stop.",
        )?;
    }
    Ok(())
}
