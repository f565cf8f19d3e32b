//! What the commands of the elements do.

use crate::app::App;
use crate::app::commands::element::ElementCommand;
use crate::app::commands::element::WordsPlace;
use crate::app::documents::opening::Source;
use crate::app::elements::choose;
use crate::app::elements::lettering::LetteringDialog;

/// Commands.
impl App {
    /// The names of the chosen elements, in the order they were chosen.
    pub fn chosen_elements(&self) -> &[String] {
        &self.views.elements.chosen
    }

    pub(crate) fn handle_element(&mut self, command: ElementCommand) {
        use ElementCommand as E;
        let Some(now) = &self.now else { return };
        let design = now.job.design.clone();
        let chosen = self.views.elements.chosen_in(&design);
        let view = &mut self.views.elements;
        match command {
            E::Choose(element, choice) => choose(view, &design, element, choice),
            E::ChooseAll => {
                view.chosen = design.elements.iter().map(|element| element.name.clone()).collect();
            }
            E::ChooseNone => view.chosen.clear(),
            E::ToggleHidden(element) => {
                let Some(element) = design.elements.get(element) else { return };
                if !view.hidden.remove(&element.name) {
                    view.hidden.insert(element.name.clone());
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
                view.lettering = (!open).then(|| LetteringDialog::new(&now.job, WordsPlace::Below));
            }
            E::NewLettering => view.lettering = Some(LetteringDialog::new(&now.job, WordsPlace::NewJob)),
            E::EditLettering => {
                let lettered = chosen.iter().map(|&index| &design.elements[index].name);
                let only = design.elements.iter().take(1).map(|element| &element.name);
                let mut names = lettered.chain(only.filter(|_| design.elements.len() == 1));
                if let Some(name) = names.find(|name| now.job.lettering.contains_key(*name)) {
                    view.lettering = LetteringDialog::editing(&now.job, name);
                }
            }
            E::Letter(words) => {
                view.lettering = None;
                if words.place == WordsPlace::NewJob {
                    self.open(Source::Words(words));
                } else {
                    self.edit(E::Letter(words), chosen);
                }
            }
            E::ToggleReading | E::ReadIn(_) | E::KeepReading | E::CarveAsLines => {
                self.handle_reading(&command);
            }
            _ => self.edit(command, chosen),
        }
    }
}
