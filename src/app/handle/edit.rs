//! Changes of the design: worked out on a thread, taken in as one step that has a name and can be taken
//! back.

use crate::app::commands::element::{ElementCommand, Words, WordsPlace};
use crate::app::elements::design_from_board;
use crate::app::elements::edited::Edited;
use crate::app::{App, Version};
use crate::design::face::Fonts;
use crate::design::lettering::Lettering;
use crate::design::{Design, DesignError, Mirror};
use crate::job::{Job, Size, Treatment};
use crate::proof::fit;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::sync::Arc;

/// What an edit makes of a design.
pub(crate) struct Change {
    design: Design,
    words: String,
    /// An element's name before and after.
    renamed: Option<[String; 2]>,
    /// New elements, and how they are carved.
    fresh: Vec<(String, Treatment)>,
    /// An element whose words were set, and how.
    lettered: Option<(String, Lettering)>,
    /// Elements that no longer are what their words would set.
    unlettered: Vec<String>,
    /// The elements to choose now.
    chosen: Vec<String>,
}

impl Change {
    fn of(design: Design, words: impl Into<String>) -> Change {
        Change {
            design,
            words: words.into(),
            renamed: None,
            fresh: Vec::new(),
            lettered: None,
            unlettered: Vec::new(),
            chosen: Vec::new(),
        }
    }

    /// The same, saying too which elements are gone since nothing of them would show, but for those that
    /// were taken away on purpose.
    fn telling_covered(mut self, before: &Design, on_purpose: &[String]) -> Change {
        let is_there = |name: &String| self.design.elements.iter().any(|element| element.name == *name);
        let names = before.elements.iter().map(|element| &element.name);
        let covered: Vec<String> =
            names.filter(|name| !is_there(name) && !on_purpose.contains(name)).cloned().collect();
        let told = match covered.as_slice() {
            [] => return self,
            [only] => format!("{only} lies wholly under another and is gone: Undo brings it back"),
            several => format!(
                "{} lie wholly under others and are gone: Undo brings them back",
                crate::words::count(several.len(), "element", "elements")
            ),
        };
        self.words = format!("{}; {told}", self.words);
        self
    }

    /// The job with its design changed. What was set about an element stays with it, by its name.
    pub(crate) fn applied_to(self, before: &Job) -> (Job, Vec<String>, String) {
        let Change { design, words, renamed, fresh, lettered, unlettered, chosen } = self;
        let name_before = |name: &str| match &renamed {
            Some([old, new]) if new == name => old.clone(),
            _ => name.to_owned(),
        };
        let place_before =
            |name: &str| before.design.elements.iter().position(|element| element.name == name_before(name));
        let grew = before.design.outline_box() != design.outline_box();
        let design = Arc::new(design);
        let mut after = before.with_design(design.clone());
        for (element, carving) in design.elements.iter().zip(&mut after.carvings) {
            if let Some(place) = place_before(&element.name) {
                *carving = before.carvings[place].clone();
            }
            if let Some((_, treatment)) = fresh.iter().find(|(name, _)| *name == element.name) {
                carving.treatment = *treatment;
            }
        }
        after.lettering = design
            .elements
            .iter()
            .filter(|element| !unlettered.contains(&element.name))
            .filter_map(|element| {
                let own = before.lettering.get(&name_before(&element.name))?;
                Some((element.name.clone(), own.clone()))
            })
            .chain(lettered)
            .collect();
        // What was there keeps the size it has on the board, however large the whole is now.
        if grew && matches!(before.size, Size::Length(_) | Size::Width(_)) {
            after.size = Size::Factor(fit::factor(before));
        }
        (after, chosen, words)
    }
}

impl App {
    /// Starts a change of the design, where there is something to change.
    pub(crate) fn edit(&mut self, command: ElementCommand, chosen: Vec<usize>) {
        use ElementCommand as E;
        let Some(now) = &self.now else { return };
        let needed = match command {
            E::Combine | E::CutOut { .. } => 2,
            E::Remove | E::Mirror(_) | E::Move(_) | E::Repeat { .. } => 1,
            _ => 0,
        };
        if chosen.len() < needed {
            self.say(format!("Choose {} first", crate::words::count(needed, "element", "elements")));
            return;
        }
        self.workers.edit(now.job.clone(), command, chosen);
    }

    /// Takes in a changed design, unless the job was changed under it.
    pub(crate) fn take_edited(&mut self, edited: Edited) {
        let Edited { before, mut after, name, words, chosen } = edited;
        if self.now.as_ref().is_none_or(|now| !now.job.same_but_for_notes(&before)) {
            self.say("The job was changed meanwhile, and the elements are as they were");
            return;
        }
        let is_untouched = *after.design == *before.design;
        if is_untouched && after.lettering == before.lettering {
            self.say("Nothing changed");
            return;
        }
        if let Some(now) = &self.now {
            after.remark.clone_from(&now.job.remark);
        }
        if !chosen.is_empty() {
            self.views.elements.chosen = chosen;
        }
        let unfollowed = self.unfollowed(&before.design);
        self.views.elements.list.scroll_to = self.views.elements.chosen_in(&after.design).last().copied();
        self.replace_job(after, name);
        self.say(words + &unfollowed);
    }

    /// What to add where a design's file was followed until it was changed here; told once, since what comes
    /// after it is not followed.
    pub(crate) fn unfollowed(&self, before: &Arc<Design>) -> String {
        let Some(drawing) = self.documents.drawing_of(before) else { return String::new() };
        let file = drawing.path.file_name().unwrap_or(drawing.path.as_os_str()).to_string_lossy();
        format!("; if {file} changes now it is not read again, unless this is undone")
    }

    /// The job becomes another of the same drawing, in one step that can be taken back.
    pub(crate) fn replace_job(&mut self, job: Job, name: &'static str) {
        let Some(now) = &mut self.now else { return };
        // It is still the same drawing: it is saved where it was saved before.
        if let Some(path) = crate::app::documents::of_design(&self.saved_at, &now.job.design).cloned() {
            self.saved_at.push((job.design.clone(), path));
        }
        self.history.add_undo(now);
        *now = Version { job, name };
        self.history.add_undo(now);
        self.views.drafts.clear();
    }
}

/// What an undo of an edit is called.
pub(crate) fn step_name(command: &ElementCommand) -> &'static str {
    use ElementCommand as E;
    match command {
        E::Rename(..) => "rename",
        E::Combine => "combine",
        E::Remove => "remove",
        E::Mirror(_) => "mirror",
        E::CutOut { .. } => "cut out",
        E::Move(_) => "move",
        E::Repeat { .. } => "repeat",
        E::Ground { .. } => "ground",
        E::Border { .. } => "border",
        E::Clean => "clean",
        E::Letter(_) => "lettering",
        _ => "elements",
    }
}

/// What a command makes of a job's design; else why it cannot, in a sentence.
pub(crate) fn changed(job: &Job, command: ElementCommand, chosen: &[usize]) -> Result<Change, String> {
    use ElementCommand as E;
    let design = &*job.design;
    let refused = |error: DesignError| format!("The design {error}");
    let names: Vec<String> = chosen.iter().map(|&index| design.elements[index].name.clone()).collect();
    let elements = crate::words::count(chosen.len(), "element", "elements");
    let factor = fit::factor(job);
    let drawn = |length: Mm| length / factor;
    let moves =
        matches!(command, E::Mirror(_) | E::Move(_) | E::Repeat { .. } | E::CutOut { keep: true, .. });
    let change = match command {
        E::Rename(element, name) => {
            let before = design.elements.get(element).map(|element| element.name.clone());
            let before = before.ok_or("The element is gone")?;
            if name.trim().is_empty() {
                return Err("An element needs a name; it keeps the one it has".to_owned());
            }
            let design = design.renamed(element, &name);
            let after = design.elements[element].name.clone();
            Change {
                renamed: Some([before.clone(), after.clone()]),
                chosen: vec![after.clone()],
                ..Change::of(design, format!("{before} is now called {after}"))
            }
        }
        E::Combine => {
            // The library names it by its place in the design; a hand means the one chosen first.
            let first = &names[0];
            let design = design.combined(chosen);
            let lowest = chosen.iter().min().map(|&index| job.design.elements[index].name.clone());
            let place = design.elements.iter().position(|element| Some(&element.name) == lowest.as_ref());
            let design = place.map_or(design.clone(), |place| design.renamed(place, first));
            Change {
                chosen: vec![first.clone()],
                unlettered: vec![first.clone()],
                ..Change::of(design, format!("Combined {elements} as {first}"))
            }
        }
        E::Remove => Change::of(design.lifted(chosen).map_err(last)?, format!("Removed {}", named(&names))),
        E::Mirror(mirror) => {
            let mirror = match mirror {
                Mirror::Upright if job.turn.swaps() => Mirror::Level,
                Mirror::Level if job.turn.swaps() => Mirror::Upright,
                same => same,
            };
            Change {
                unlettered: names.clone(),
                ..Change::of(
                    design.mirrored(chosen, mirror).map_err(refused)?,
                    format!("Mirrored {}", named(&names)),
                )
            }
        }
        E::CutOut { margin, keep } => cut_out(design, chosen, drawn(margin), keep)?,
        E::Move(by) => {
            let by = design_from_board(job, by);
            Change::of(design.moved(chosen, by).map_err(refused)?, format!("Moved {}", named(&names)))
        }
        E::Repeat { times: [along, across], pitch } => {
            let [columns, rows] = if job.turn.swaps() { [across, along] } else { [along, across] };
            let pitch = design_from_board(job, pitch);
            Change {
                unlettered: names.clone(),
                ..Change::of(
                    design.repeated(chosen, columns, rows, pitch).map_err(refused)?,
                    format!("Repeated {} {along} by {across} times", named(&names)),
                )
            }
        }
        E::Ground { margin, corner } => {
            let design = design.with_ground(drawn(margin), drawn(corner)).map_err(refused)?;
            added(design, Treatment::Sunk, "it is sunk, so that what stands on it is in relief")
        }
        E::Border { margin, width, corner } => {
            let design = design.with_border(drawn(margin), drawn(width), drawn(corner)).map_err(refused)?;
            added(design, Treatment::Relief, "it stands")
        }
        E::Clean => {
            let specks = design.specks().count;
            let cleaned = crate::words::count(specks, "speck or sliver", "specks and slivers");
            Change::of(design.without_specks().map_err(refused)?, format!("Cleaned {cleaned} away"))
        }
        E::Letter(words) => {
            let old = if let WordsPlace::InPlaceOf(name) = &words.place { Some(name.clone()) } else { None };
            let change = lettered(job, &words, factor)?;
            return Ok(change.telling_covered(design, old.as_slice()));
        }
        _ => return Err("There is nothing to change".to_owned()),
    };
    Ok(if moves { change.telling_covered(design, &[]) } else { change })
}

/// Why elements cannot be taken out.
fn last(error: DesignError) -> String {
    match error {
        DesignError::NothingToCarve { .. } => "A design needs an element: the last one stays".to_owned(),
        error => format!("The design {error}"),
    }
}

/// `rim`, or `3 elements`.
fn named(names: &[String]) -> String {
    match names {
        [only] => only.clone(),
        _ => crate::words::count(names.len(), "element", "elements"),
    }
}

/// A ground or a border: the new element is the lowest.
fn added(design: Design, treatment: Treatment, meaning: &str) -> Change {
    let name = design.elements.first().map(|element| element.name.clone()).unwrap_or_default();
    Change {
        fresh: vec![(name.clone(), treatment)],
        chosen: vec![name.clone()],
        ..Change::of(design, format!("Added {name}: {meaning}"))
    }
}

/// The others with a margin taken out of the one chosen first.
fn cut_out(design: &Design, chosen: &[usize], margin: Mm, keep: bool) -> Result<Change, String> {
    let (&from, tools) = chosen.split_first().ok_or("Choose 2 elements first")?;
    let name = design.elements[from].name.clone();
    let mut cut = design.clone();
    for &tool in tools {
        let left = cut.subtracted(from, tool, margin);
        cut = left.map_err(|error| match error {
            DesignError::NothingToCarve { .. } => format!("Nothing is left of {name}; take a smaller margin"),
            error => format!("The design {error}"),
        })?;
    }
    let words = format!("Cut {} out of {name}", named_by(design, tools));
    let cut = if keep { cut } else { cut.without(tools).map_err(last)? };
    Ok(Change { unlettered: vec![name.clone()], chosen: vec![name], ..Change::of(cut, words) })
}

fn named_by(design: &Design, places: &[usize]) -> String {
    let names: Vec<String> = places.iter().map(|&place| design.elements[place].name.clone()).collect();
    named(&names)
}

/// Words as they are carved, at drawn size.
pub(crate) fn at_drawn_size(lettering: &Lettering, factor: f64) -> Lettering {
    Lettering {
        cap_height: lettering.cap_height / factor,
        spacing: lettering.spacing / factor,
        arc: lettering.arc.map(|radius| radius / factor),
        ..lettering.clone()
    }
}

/// Words put into the design, on top of what is there.
fn lettered(job: &Job, words: &Words, factor: f64) -> Result<Change, String> {
    let refused = |error: DesignError| format!("The design {error}");
    let fonts = Fonts::of_machine();
    let lettering = at_drawn_size(&words.lettering, factor);
    let set = lettering.design(fonts).map_err(|error| error.to_string())?;
    let (whole, own) = (job.design.outline_box(), set.outline_box());
    let gap = 0.5 * lettering.cap_height.get();
    let (below, at, treatment) = match &words.place {
        WordsPlace::InPlaceOf(name) => {
            let place = crate::app::elements::place_of(&job.design, name).ok_or(format!("{name} is gone"))?;
            let (region, before) = (&job.design.elements[place].region, job.lettering.get(name));
            let at = shift_of(region.bounds(), before, fonts).unwrap_or(whole.center() - own.center());
            (job.design.lifted(&[place]).ok(), at, words.treatment)
        }
        WordsPlace::Middle => (Some((*job.design).clone()), whole.center() - own.center(), words.treatment),
        WordsPlace::Above => {
            let at = dvec2(whole.center().x - own.center().x, whole.max.y + gap - own.min.y);
            (Some((*job.design).clone()), at, words.treatment)
        }
        WordsPlace::Below | WordsPlace::NewJob => {
            let at = dvec2(whole.center().x - own.center().x, whole.min.y - gap - own.max.y);
            (Some((*job.design).clone()), at, words.treatment)
        }
    };
    let design = match below {
        Some(below) => below.with(&set, at),
        // The words were all there was.
        None => set.moved(&[], at).map(|set| Design { name: job.design.name.clone(), ..set }),
    };
    let design = design.map_err(refused)?;
    let name = design.elements.last().map(|element| element.name.clone()).unwrap_or_default();
    Ok(Change {
        fresh: vec![(name.clone(), treatment)],
        lettered: Some((name.clone(), lettering)),
        chosen: vec![name.clone()],
        ..Change::of(design, format!("Lettered {name}"))
    })
}

/// How far the words that are there were moved from where their lettering alone would set them.
fn shift_of(
    bounds: Option<crate::geometry::Rect>,
    lettering: Option<&Lettering>,
    fonts: &Fonts,
) -> Option<DVec2> {
    let set = lettering?.design(fonts).ok()?;
    Some(bounds?.center() - set.outline_box().center())
}
