//! What the commands of the elements do.

use crate::app::App;
use crate::app::commands::element::{Choice, ElementCommand};
use crate::app::documents::opening::Source;
use crate::app::elements::lettering::LetteringDialog;
use crate::app::elements::view::{choose, choose_these};
use crate::job::{Redesign, Spot};

/// Commands.
impl App {
    /// The names of the chosen elements, in the order they were chosen.
    pub fn chosen_elements(&self) -> &[String] {
        &self.views.elements.chosen
    }

    pub(crate) fn handle_element(&mut self, command: ElementCommand) {
        use ElementCommand as E;
        let Some(job) = self.shelf.shown().map(|shown| shown.job().clone()) else { return };
        let design = job.design().clone();
        let chosen = self.views.elements.chosen_in(&design);
        let view = &mut self.views.elements;
        match command {
            E::Choose(element, choice) => choose(view, &design, element, choice),
            E::ChooseBoxed(places) => choose_these(view, &design, &places, Choice::UpTo),
            E::ChooseAll => {
                view.chosen = design.elements.iter().map(|element| element.name.clone()).collect();
            }
            E::ChooseThese(places, choice) => choose_these(view, &design, &places, choice),
            E::ChooseAlike => choose_these(view, &design, &design.alike(&chosen), Choice::UpTo),
            E::ChooseGroup => choose_these(view, &design, &design.of_group_of(&chosen), Choice::UpTo),
            E::ChooseColor => choose_these(view, &design, &design.of_color_of(&chosen), Choice::UpTo),
            E::ChooseNone => view.chosen.clear(),
            E::ToggleHidden(places) => {
                let names = places.iter().filter_map(|&place| Some(&design.elements.get(place)?.name));
                if names.clone().all(|name| view.hidden.contains(name)) {
                    names.for_each(|name| {
                        view.hidden.remove(name);
                    });
                } else {
                    view.hidden.extend(names.cloned());
                }
            }
            E::HideChosen => view.hidden.extend(view.chosen.iter().cloned()),
            E::ShowAll => view.hidden.clear(),
            E::StartRename => {
                // With one element there is no doubt which is meant.
                let element = chosen.first().or((design.elements.len() == 1).then_some(&0));
                if let Some(&element) = element {
                    let name = design.elements[element].name.clone();
                    view.renaming = Some((name.clone(), name));
                    view.list.scroll_to = Some(element);
                }
            }
            E::Arrange(what) => view.arrange.toggle(what),
            E::ToggleLettering => {
                let open = view.lettering.is_some();
                view.lettering = (!open).then(|| LetteringDialog::new(&job, Some(Spot::Below)));
            }
            E::NewLettering => view.lettering = Some(LetteringDialog::new(&job, None)),
            E::EditLettering => {
                let lettered = chosen.iter().map(|&index| &design.elements[index].name);
                let only = design.elements.iter().take(1).map(|element| &element.name);
                let mut names = lettered.chain(only.filter(|_| design.elements.len() == 1));
                if let Some(name) = names.find(|name| job.lettering().contains_key(*name)) {
                    view.lettering = LetteringDialog::editing(&job, name);
                }
            }
            E::Letter(words, spot) => {
                view.lettering = None;
                self.redesign(Redesign::Letter(*words, spot));
            }
            E::LetterNewJob(words) => {
                view.lettering = None;
                self.open(Source::Words(words));
            }
            E::ToggleReading | E::ReadIn(_) | E::KeepReading | E::CarveAsLines => {
                self.handle_reading(&command);
            }
            E::Rename(element, name) => self.redesign(Redesign::Rename { element, name }),
            E::Combine => self.redesign(Redesign::Combine(chosen)),
            E::Split => self.redesign(Redesign::Split(chosen)),
            E::Remove => self.redesign(Redesign::Remove(chosen)),
            E::Mirror(mirror) => self.redesign(Redesign::Mirror(chosen, mirror)),
            E::CutOut { margin, keep } => {
                self.redesign(Redesign::CutOut { elements: chosen, margin, keep });
            }
            E::Move(by) => self.redesign(Redesign::Move { elements: chosen, by }),
            E::Resize(factor) => self.redesign(Redesign::Resize { elements: chosen, factor }),
            E::Grow(by) => self.redesign(Redesign::Grow { elements: chosen, by }),
            E::Repeat { times, pitch } => {
                self.redesign(Redesign::Repeat { elements: chosen, times, pitch });
            }
            E::Ground { margin, shape } => self.redesign(Redesign::Ground { margin, shape }),
            E::Border { margin, width, shape } => {
                self.redesign(Redesign::Border { margin, width, shape });
            }
            E::Smooth(finest) => self.redesign(Redesign::Smooth { elements: chosen, finest }),
            E::Clean => self.redesign(Redesign::Clean),
        }
    }
}
