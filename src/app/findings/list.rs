//! What was found, worst first, in groups of one kind. A click goes to the spot.

use crate::app::commands::board::BoardCommand;
use crate::app::commands::command::Command;
use crate::app::commands::export::Export;
use crate::app::findings::view::FindingsView;
use crate::app::widgets::look::{Badge, Palette, paint_severity};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::job::{Edit, Job};
use crate::proof::mend::Mend;
use crate::proof::{Facts, Finding, FindingKind, Severity};
use crate::sheet::pdf::MOST_REMARK;
use crate::units::LengthUnit;
use crate::words::window::findings as said;
use egui::{CollapsingHeader, ComboBox, Label, RichText, ScrollArea, Sense, TextEdit, vec2};
use std::collections::BTreeSet;

/// No hand walks through more than this of one kind; a count says how many are left.
const MOST_ROWS: usize = 100;

/// From so many of one kind on, what is only worth knowing is folded away.
const FOLDED_FROM: usize = 3;

/// Findings of one kind and severity, by their places in the list.
struct Group {
    kind: FindingKind,
    severity: Severity,
    members: Vec<usize>,
}

/// The findings in groups, in the order of the first of each. `element` leaves out those of other elements.
fn groups(findings: &[Finding], element: Option<&str>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (index, finding) in findings.iter().enumerate() {
        if element.is_some() && finding.element() != element {
            continue;
        }
        let (kind, severity) = (finding.kind(), finding.severity());
        match groups.iter_mut().find(|group| (group.kind, group.severity) == (kind, severity)) {
            Some(group) => group.members.push(index),
            None => groups.push(Group { kind, severity, members: vec![index] }),
        }
    }
    groups
}

/// The list.
pub(crate) fn findings_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &mut FindingsView,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shown, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let findings = &shown.proof.findings;
    egui::Panel::bottom("for the bench")
        .frame(egui::Frame::new().inner_margin(egui::Margin { top: 6, ..egui::Margin::ZERO }))
        .show(ui, |ui| bench_ui(ui, job, commands));
    ui.label(RichText::new(said::FINDINGS).strong().size(14.5));
    ui.label(RichText::new(tally(findings)).small().color(palette.faint));
    for mend in [Mend::Walls, Mend::Grooves] {
        if findings.iter().any(|finding| mended_by(finding) == Some(mend)) {
            let command = Command::Mend(mend);
            if ui.button(command.label()).on_hover_text(command.tooltip()).clicked() {
                commands.push(command);
            }
        }
    }
    element_ui(ui, findings, &mut view.element);
    ui.add_space(2.0);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        if findings.is_empty() {
            ui.label(said::NOTHING_TO_REPORT_EVERY_WALL_AND_GROOVE);
        }
        for group in groups(findings, view.element.as_deref()) {
            group_ui(ui, scene, &group, view, commands);
        }
        ui.add_space(6.0);
        ui.label(RichText::new(limits_source(shown, unit)).small().color(palette.faint));
    });
}

/// The list of elements that have findings, to see those of one alone.
fn element_ui(ui: &mut egui::Ui, findings: &[Finding], element: &mut Option<String>) {
    let names: BTreeSet<&str> = findings.iter().filter_map(Finding::element).collect();
    // An element whose findings are all gone hides nothing.
    if element.as_deref().is_some_and(|element| !names.contains(element)) {
        *element = None;
    }
    if names.len() < 2 {
        return;
    }
    let shown = element.clone().unwrap_or_else(|| said::ALL_ELEMENTS.to_owned());
    let list = ComboBox::from_id_salt("findings of").width(160.0).truncate().selected_text(shown);
    let list = list.show_ui(ui, |ui| {
        ui.selectable_value(element, None, said::ALL_ELEMENTS);
        for name in names {
            ui.selectable_value(element, Some(name.to_owned()), name);
        }
    });
    list.response.accessible_name(said::FINDINGS_OF);
}

/// A group under its heading; one finding alone needs none.
fn group_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    group: &Group,
    view: &mut FindingsView,
    commands: &mut Vec<Command>,
) {
    let findings = &scene.shown.proof.findings;
    let chosen = group.members.iter().position(|&index| scene.chosen == Some(findings[index].id.as_str()));
    let open = (chosen.is_some() && view.scroll_to_chosen).then_some(true);
    let mut rows = |ui: &mut egui::Ui| {
        // The chosen one is in sight, however far down it is.
        let last = chosen.map_or(MOST_ROWS, |at| MOST_ROWS.max(at + 1));
        for &index in group.members.iter().take(last) {
            row_ui(ui, scene, index, view, commands);
        }
        if group.members.len() > last {
            ui.label(said::more_findings(group.members.len() - last));
        }
    };
    let [first, _, ..] = group.members[..] else { return rows(ui) };
    let name = said::group(crate::words::finding::title(&findings[first]), group.members.len());
    let is_folded = group.severity == Severity::Sound && group.members.len() >= FOLDED_FROM;
    CollapsingHeader::new(RichText::new(name).small().strong())
        .id_salt(("findings", group.kind, group.severity))
        .default_open(!is_folded)
        .open(open)
        .show_unindented(ui, rows);
}

fn row_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    index: usize,
    view: &mut FindingsView,
    commands: &mut Vec<Command>,
) {
    let Scene { job, shown, unit, .. } = *scene;
    let finding = &shown.proof.findings[index];
    let chosen = scene.chosen == Some(finding.id.as_str());
    let response = finding_row_ui(ui, index + 1, finding, chosen, unit);
    if chosen && view.scroll_to_chosen {
        response.scroll_to_me(None);
        view.scroll_to_chosen = false;
    }
    if response.clicked() {
        commands.push(Command::GoTo(finding.id.clone()));
    }
    accepted_ui(ui, index + 1, finding, chosen, job, commands);
    if chosen {
        let help = match mended_by(finding) {
            Some(mend) => Some(Command::MendOne(mend, finding.id.clone())),
            None if matches!(finding.facts, Facts::Blemish { .. }) => Some(BoardCommand::FindPlace.into()),
            None => None,
        };
        if let Some(command) = help {
            let is_place = command == BoardCommand::FindPlace.into();
            let label = if is_place { said::FIND_A_PLACE_CLEAR_OF_IT } else { command.label() };
            if ui.small_button(label).on_hover_text(command.tooltip()).clicked() {
                commands.push(command);
            }
        }
    }
    if chosen && matches!(finding.facts, Facts::ThinWall { .. } | Facts::LostTip { .. }) && !view.why_open {
        let command = Command::ToggleWhy;
        let why = ui.small_button(command.label()).on_hover_text(command.tooltip());
        if why.accessible_name(said::why_the_limit_of(index + 1)).clicked() {
            commands.push(command);
        }
    }
}

/// The tick of a finding that is carved all the same: at the chosen one, and at those that have it.
fn accepted_ui(
    ui: &mut egui::Ui,
    number: usize,
    finding: &Finding,
    chosen: bool,
    job: &Job,
    commands: &mut Vec<Command>,
) {
    let mut accepted = job.accepted().contains(&finding.id);
    if !chosen && !accepted {
        return;
    }
    let tick = ui.checkbox(&mut accepted, RichText::new(said::ACCEPTED).small());
    let tick = tick.on_hover_text(said::CARVE_IT_ALL_THE_SAME_THE_BENCH);
    tick.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::CheckBox, true, accepted, said::accept(number))
    });
    if tick.changed() {
        commands.push(Command::Edit(Edit::Accept { finding: finding.id.clone(), accepted }));
    }
}

/// What is noted for the bench, and the sheet that it is printed on.
fn bench_ui(ui: &mut egui::Ui, job: &Job, commands: &mut Vec<Command>) {
    const NAME: &str = said::REMARK_FOR_THE_BENCH;
    ui.spacing_mut().item_spacing.y = 3.0;
    ui.label(RichText::new(NAME).small().color(Palette::of(ui.ctx()).faint));
    let mut remark = job.remark().to_owned();
    let field = TextEdit::multiline(&mut remark)
        .desired_rows(2)
        .desired_width(f32::INFINITY)
        .char_limit(MOST_REMARK)
        .hint_text(said::PRINTED_ON_THE_BENCH_SHEET);
    if ui.add(field).accessible_name(NAME).changed() {
        commands.push(Command::Edit(Edit::Remark(remark)));
    }
    let sheet = Export::BenchSheet;
    if ui.button(sheet.caption().label).on_hover_text(sheet.caption().tip).clicked() {
        commands.push(Command::AskExport(sheet));
    }
}

/// What takes a finding away, where mending does.
fn mended_by(finding: &Finding) -> Option<Mend> {
    match finding.facts {
        Facts::ThinWall { .. } => Some(Mend::Walls),
        Facts::BlockedGroove { .. } => Some(Mend::Grooves),
        _ => None,
    }
}

/// Where the limits come from, as a sentence.
fn limits_source(shown: &Proofed, unit: LengthUnit) -> String {
    crate::words::limits::limits_from(shown.proof.limits.usual(), unit)
}

fn tally(findings: &[Finding]) -> String {
    let count = |severity| findings.iter().filter(|finding| finding.severity() == severity).count();
    said::tally(
        [Severity::Unsound, Severity::Chancy, Severity::Sound].map(|severity| (count(severity), severity)),
    )
}

fn finding_row_ui(
    ui: &mut egui::Ui,
    number: usize,
    finding: &Finding,
    chosen: bool,
    unit: LengthUnit,
) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    let (message, advice) =
        (crate::words::finding::message(finding, unit), crate::words::finding::advice(finding, unit));
    let mut frame = egui::Frame::new()
        .fill(if chosen { palette.chosen } else { palette.card })
        .stroke(egui::Stroke::new(1.0, if chosen { palette.accent } else { palette.line }))
        .corner_radius(5.0)
        .inner_margin(egui::Margin::symmetric(8, 5))
        .begin(ui);
    {
        let ui = &mut frame.content_ui;
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.horizontal(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(28.0, 28.0), Sense::hover());
            Badge { number, kind: finding.kind(), chosen: false }.paint(ui.painter(), rect.center());
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let (rect, _) = ui.allocate_exact_size(vec2(16.0, 18.0), Sense::hover());
                // A tick would say that something was looked at and is well.
                if finding.severity() > Severity::Sound {
                    paint_severity(ui.painter(), rect.center(), 7.0, finding.severity());
                }
                let word = RichText::new(said::severity(finding.severity())).small().color(palette.faint);
                ui.add(Label::new(word).selectable(false));
                // In what room is left: a long name takes a second line.
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    let title = RichText::new(crate::words::finding::title(finding)).strong();
                    ui.add(Label::new(title).wrap().selectable(false));
                });
            });
        });
        ui.add(Label::new(&message).wrap().selectable(false));
        if let Some(element) = finding.element() {
            let text = RichText::new(said::in_element(element)).small().color(palette.faint);
            ui.add(Label::new(text).truncate().selectable(false));
        }
        if chosen && !advice.is_empty() {
            ui.add(Label::new(RichText::new(said::advice(&advice))).wrap().selectable(false));
        }
    }
    let rect = frame.content_ui.min_rect() + frame.frame.total_margin();
    let response = ui.interact(rect, ui.scope_id().with(("finding", &finding.id)), Sense::click());
    if response.hovered() && !chosen {
        frame.frame.stroke.color = palette.accent;
    }
    if response.has_focus() {
        frame.frame.stroke = egui::Stroke::new(2.0, palette.accent);
    }
    frame.end(ui);
    let label = said::finding(number, finding, unit);
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::ListBoxOption, true, chosen, &label));
    let measured = finding.measured().map(|length| unit.show_exact(length));
    let known = Some(advice).filter(|advice| !advice.is_empty());
    let hint = measured.into_iter().chain(known).collect::<Vec<_>>().join("\n");
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text(hint)
}
