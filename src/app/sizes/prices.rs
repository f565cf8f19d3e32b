//! What the shop charges: every line of a price in a form, kept for every job.

use crate::app::commands::command::Command;
use crate::app::widgets::form;
use crate::app::widgets::form::{Entry, entry_ui, heading_ui, number, words_ui};
use crate::app::widgets::look::Palette;
use crate::shop::{FeetRule, Money, MoneyPlace, PricePart, Prices, Shop, SignAt, Weights, area_unit};
use crate::units::{LengthUnit, trimmed};
use crate::words::shop::wrong;
use crate::words::window::sizes as said;
use egui::{CollapsingHeader, ComboBox, RichText, ScrollArea};
use std::collections::BTreeMap;

/// The prices as they are being typed.
pub(crate) struct PriceDialog {
    texts: BTreeMap<PricePart, String>,
    /// The price of a board foot, by the wood's id; empty for the price of other woods.
    woods: BTreeMap<String, String>,
    thousands: String,
    mark: String,
    /// What of it is chosen, not typed.
    money: Money,
    feet: FeetRule,
    /// What a change is worth avoiding, in the order of [`Weights::all`].
    weights: [String; 9],
    /// Areas are typed in this unit.
    unit: LengthUnit,
}

/// What is wrong, by the part; a wood's by its id.
#[derive(Default)]
struct Reasons {
    parts: BTreeMap<PricePart, String>,
    woods: BTreeMap<String, String>,
}

/// The lines of a price in two columns: the part, the name of its field, and its caption.
const LINES: [(PricePart, &str, &str); 9] = [
    (PricePart::Waste, said::WASTE, said::WASTE_ALLOWANCE),
    (PricePart::MachineHour, said::MACHINE_HOUR, said::MACHINE_PER_HOUR),
    (PricePart::CutterHour, said::CUTTER_WEAR, said::CUTTER_WEAR_PER_HOUR_OF_CARVING),
    (PricePart::BenchHour, said::BENCH_HOUR, said::BENCH_WORK_PER_HOUR),
    (PricePart::BenchMinutes, said::BENCH_MINUTES, said::BENCH_MINUTES_FOR_EVERY_PIECE),
    (PricePart::Minimum, said::MINIMUM, said::LOWEST_PRICE_FOR_ANY_PIECE),
    (PricePart::Margin, said::MARGIN, said::MARGIN_OF_THE_PRICE_BEFORE_TAX),
    (PricePart::Tax, said::TAX, said::TAX_OF_THE_PRICE),
    (PricePart::RoundUpTo, said::ROUNDING_UP, said::ROUND_PRICES_UP_TO_THE_NEXT),
];

impl PriceDialog {
    /// The form of a shop's prices.
    pub(crate) fn of(shop: &Shop, unit: LengthUnit) -> PriceDialog {
        let prices = &shop.prices;
        let amount = |amount: f64| trimmed(amount, 6);
        // A share of a square metre in the user's own area.
        let area = area_unit(unit).0 / 1.0e6;
        let mut dialog = PriceDialog {
            texts: [
                (PricePart::OtherWoods, prices.other_woods.map_or_else(String::new, amount)),
                (PricePart::Waste, amount(prices.waste * 100.0)),
                (PricePart::MachineHour, amount(prices.machine_hour)),
                (PricePart::BenchHour, amount(prices.bench_hour)),
                (PricePart::BenchMinutes, amount(prices.bench_minutes)),
                (PricePart::BenchMinutesPerArea, amount(prices.bench_minutes_per_area * area)),
                (PricePart::FinishPerArea, amount(prices.finish_per_area * area)),
                (PricePart::CutterHour, amount(prices.cutter_hour)),
                (PricePart::Minimum, amount(prices.minimum)),
                (PricePart::Margin, amount(prices.margin * 100.0)),
                (PricePart::Tax, amount(prices.tax * 100.0)),
                (PricePart::RoundUpTo, amount(prices.money.round_up_to)),
            ]
            .into(),
            woods: prices.woods.iter().map(|(id, price)| (id.clone(), amount(*price))).collect(),
            thousands: String::new(),
            mark: String::new(),
            money: Money::default(),
            feet: prices.feet,
            weights: prices.weights.all().map(amount),
            unit,
        };
        dialog.take_money(&prices.money);
        dialog
    }

    /// Fills in how money is written. What prices are rounded up to is the shop's own, and stays.
    fn take_money(&mut self, money: &Money) {
        self.texts.insert(PricePart::Sign, money.sign.clone());
        self.texts.insert(PricePart::Decimals, money.decimals.to_string());
        self.thousands = money.thousands_mark.map_or_else(String::new, String::from);
        self.mark = money.decimal_mark.to_string();
        self.money = money.clone();
    }

    /// The prices that are typed, or what is wrong. A number nobody touched stays as exact as it was.
    fn read(&self, before: &PriceDialog, shop: &Shop) -> Result<Prices, Reasons> {
        let mut reasons = Reasons::default();
        let mut prices = shop.prices.clone();
        prices.money = Money { round_up_to: prices.money.round_up_to, ..self.money.clone() };
        let area = area_unit(self.unit).0 / 1.0e6;
        let mut take = |part: PricePart, times: f64, slot: &mut f64| {
            let text = self.texts.get(&part).map_or("", String::as_str);
            if before.texts.get(&part).is_some_and(|before| before == text) {
                return;
            }
            match number(text) {
                Ok(number) => *slot = number * times,
                Err(reason) => drop(reasons.parts.insert(part, reason)),
            }
        };
        take(PricePart::Waste, 0.01, &mut prices.waste);
        take(PricePart::MachineHour, 1.0, &mut prices.machine_hour);
        take(PricePart::BenchHour, 1.0, &mut prices.bench_hour);
        take(PricePart::BenchMinutes, 1.0, &mut prices.bench_minutes);
        take(PricePart::BenchMinutesPerArea, 1.0 / area, &mut prices.bench_minutes_per_area);
        take(PricePart::FinishPerArea, 1.0 / area, &mut prices.finish_per_area);
        take(PricePart::CutterHour, 1.0, &mut prices.cutter_hour);
        take(PricePart::Minimum, 1.0, &mut prices.minimum);
        take(PricePart::Margin, 0.01, &mut prices.margin);
        take(PricePart::Tax, 0.01, &mut prices.tax);
        take(PricePart::RoundUpTo, 1.0, &mut prices.money.round_up_to);
        let mut decimals = f64::from(prices.money.decimals);
        take(PricePart::Decimals, 1.0, &mut decimals);
        if decimals.fract() == 0.0 && (0.0..=3.0).contains(&decimals) {
            #[expect(clippy::cast_sign_loss, reason = "from 0 to 3")]
            let whole = decimals as u8;
            prices.money.decimals = whole;
        } else {
            reasons.parts.insert(PricePart::Decimals, said::IT_MUST_BE_0_1_2_OR.to_owned());
        }
        let other = self.texts.get(&PricePart::OtherWoods).map_or("", |text| text.trim());
        match number(other) {
            _ if other.is_empty() => prices.other_woods = None,
            Ok(price) => prices.other_woods = Some(price),
            Err(reason) => drop(reasons.parts.insert(PricePart::OtherWoods, reason)),
        }
        for (id, text) in &self.woods {
            match number(text) {
                _ if text.trim().is_empty() => drop(prices.woods.remove(id)),
                Ok(price) if price >= 0.0 => drop(prices.woods.insert(id.clone(), price)),
                Ok(_) => drop(reasons.woods.insert(id.clone(), said::A_PRICE_MUST_BE_0_OR_MORE.to_owned())),
                Err(reason) => drop(reasons.woods.insert(id.clone(), reason)),
            }
        }
        let sign = self.texts.get(&PricePart::Sign).map_or("", |text| text.trim());
        if prices.money.sign != sign {
            // A sign of one's own: of which currency is not known.
            prices.money.currency.clear();
            sign.clone_into(&mut prices.money.sign);
        }
        let one = |text: &str| <[char; 1]>::try_from(text.chars().collect::<Vec<_>>()).ok().map(|[one]| one);
        match (one(&self.mark), self.thousands.as_str()) {
            (Some(mark), "") => (prices.money.decimal_mark, prices.money.thousands_mark) = (mark, None),
            (Some(mark), thousands) if one(thousands).is_some() => {
                (prices.money.decimal_mark, prices.money.thousands_mark) = (mark, one(thousands));
            }
            _ => drop(reasons.parts.insert(PricePart::Marks, said::A_MARK_IS_ONE_CHARACTER.to_owned())),
        }
        prices.feet = self.feet;
        let mut weights = prices.weights.all();
        for (slot, (text, before)) in weights.iter_mut().zip(self.weights.iter().zip(&before.weights)) {
            match number(text) {
                _ if text == before => {}
                Ok(number) => *slot = number,
                Err(reason) => drop(reasons.parts.insert(PricePart::Weights, reason)),
            }
        }
        prices.weights = Weights::of(weights);
        for problem in prices.problems() {
            reasons
                .parts
                .entry(problem.part)
                .or_insert_with(|| wrong(&problem.wrong, LengthUnit::Millimetres));
        }
        if reasons.parts.is_empty() && reasons.woods.is_empty() { Ok(prices) } else { Err(reasons) }
    }
}

/// The dialog, where it is open.
pub(crate) fn prices_ui(
    ctx: &egui::Context,
    shop: &Shop,
    dialog: &mut Option<PriceDialog>,
    commands: &mut Vec<Command>,
) {
    let Some(open) = dialog else { return };
    let modal = egui::Modal::new(egui::Id::unique("prices")).show(ctx, |ui| {
        ui.set_width(560.0);
        let palette = Palette::of(ui.ctx());
        ui.heading(said::PRICES);
        if shop.prices.are_examples() {
            words_ui(ui, said::THESE_ARE_EXAMPLE_FIGURES_REPLACE_THEM_WITH);
        }
        let read = open.read(&PriceDialog::of(shop, open.unit), shop);
        let none = Reasons::default();
        let reasons = read.as_ref().err().unwrap_or(&none);
        ScrollArea::vertical().max_height(430.0).auto_shrink([false, true]).show(ui, |ui| {
            lines_ui(ui, open, reasons);
            money_ui(ui, open, read.as_ref().ok(), reasons);
            woods_ui(ui, shop, open, reasons);
            weights_ui(ui, open, reasons);
        });
        if let Ok(prices) = &read {
            let words = said::money_reads(&prices.money.show(1234.5));
            words_ui(ui, RichText::new(words).small().color(palette.faint));
        }
        ui.add_space(4.0);
        if let Some(prices) = form::foot_ui(ui, KEEP, read.as_ref().ok()) {
            commands.push(Command::KeepPrices(Box::new(prices.clone())));
        }
    });
    if form::is_closing(ctx, &modal) {
        *dialog = None;
    }
}

const KEEP: &str = said::KEEP_PRICES;

fn field_ui(
    ui: &mut egui::Ui,
    dialog: &mut PriceDialog,
    reasons: &Reasons,
    part: PricePart,
    name: &str,
    caption: &str,
) {
    let wrong = reasons.parts.get(&part).map(String::as_str);
    entry_ui(ui, dialog.texts.entry(part).or_default(), &Entry { name, caption, wrong });
}

fn lines_ui(ui: &mut egui::Ui, dialog: &mut PriceDialog, reasons: &Reasons) {
    for pair in LINES.chunks(2) {
        ui.columns(2, |columns| {
            for (ui, (part, name, caption)) in columns.iter_mut().zip(pair) {
                field_ui(ui, dialog, reasons, *part, name, caption);
            }
        });
    }
    let area = area_unit(dialog.unit).1;
    ui.columns(2, |columns| {
        let caption = said::sanding(area);
        field_ui(
            &mut columns[0],
            dialog,
            reasons,
            PricePart::BenchMinutesPerArea,
            said::SANDING_MINUTES,
            &caption,
        );
        let caption = said::finish(area);
        field_ui(&mut columns[1], dialog, reasons, PricePart::FinishPerArea, said::FINISH, &caption);
    });
}

fn money_ui(ui: &mut egui::Ui, dialog: &mut PriceDialog, read: Option<&Prices>, reasons: &Reasons) {
    heading_ui(ui, said::MONEY);
    let palette = Palette::of(ui.ctx());
    ui.columns(2, |columns| {
        columns[0].label(RichText::new(said::WRITTEN_AS_IN).small().color(palette.faint));
        place_ui(&mut columns[0], dialog, read);
        columns[1].label(RichText::new(said::CASH_ROUNDING).small().color(palette.faint));
        cash_ui(&mut columns[1], dialog);
    });
    ui.columns(4, |columns| {
        field_ui(&mut columns[0], dialog, reasons, PricePart::Sign, said::CURRENCY_SIGN, said::CURRENCY_SIGN);
        field_ui(
            &mut columns[1],
            dialog,
            reasons,
            PricePart::Decimals,
            said::DIGITS_OF_MONEY,
            said::DIGITS_AFTER_THE_MARK,
        );
        let wrong = reasons.parts.get(&PricePart::Marks).map(String::as_str);
        entry_ui(
            &mut columns[2],
            &mut dialog.mark,
            &Entry { name: said::DECIMAL_MARK, caption: said::DECIMAL_MARK, wrong },
        );
        let entry = Entry { name: said::THOUSANDS_MARK, caption: said::BETWEEN_THOUSANDS, wrong };
        entry_ui(&mut columns[3], &mut dialog.thousands, &entry);
    });
    ui.horizontal(|ui| {
        for sign_at in SignAt::ALL {
            let example = Money { sign_at, ..dialog.money.clone() }.show(12.0);
            ui.radio_value(&mut dialog.money.sign_at, sign_at, example)
                .on_hover_text(said::WHERE_THE_SIGN_GOES);
        }
    });
}

/// The place whose way with money is taken over.
fn place_ui(ui: &mut egui::Ui, dialog: &mut PriceDialog, read: Option<&Prices>) {
    let written = |money: &Money| Money { round_up_to: 0.0, cash_step: 0.0, ..money.clone() };
    let now = read.map(|prices| written(&prices.money));
    let chosen = MoneyPlace::all().iter().find(|place| Some(written(&place.money)) == now);
    let combo = ComboBox::from_id_salt("money place").width(240.0).height(320.0);
    let combo = combo.selected_text(chosen.map_or(said::YOUR_OWN, |place| place.name.as_str()));
    let response = combo.show_ui(ui, |ui| {
        for place in MoneyPlace::all() {
            let words = said::money_place(&place.name, &place.money.show(1234.5));
            if ui.selectable_label(chosen.is_some_and(|chosen| chosen.tag == place.tag), words).clicked() {
                dialog.take_money(&place.money);
            }
        }
    });
    response.response.accessible_name(said::MONEY_AS_IN);
}

/// What small coins there are.
fn cash_ui(ui: &mut egui::Ui, dialog: &mut PriceDialog) {
    let money = dialog.money.clone();
    let words = |step: f64| {
        if step > 0.0 { said::to_the_nearest(&money.show(step)) } else { said::NOT_ROUNDED.to_owned() }
    };
    let combo = ComboBox::from_id_salt("cash").width(240.0).selected_text(words(money.cash_step));
    let response = combo.show_ui(ui, |ui| {
        // A whole unit goes for any currency, a part of one for those that have parts.
        for step in [0.0, 0.05, 0.1, 0.5, 1.0] {
            if money.rounded(step) == step {
                ui.selectable_value(&mut dialog.money.cash_step, step, words(step));
            }
        }
    });
    response.response.accessible_name(said::CASH_ROUNDING);
}

fn woods_ui(ui: &mut egui::Ui, shop: &Shop, dialog: &mut PriceDialog, reasons: &Reasons) {
    heading_ui(ui, said::A_BOARD_FOOT);
    ui.columns(2, |columns| {
        let caption = said::ANY_WOOD_WITH_NO_PRICE_OF_ITS;
        field_ui(
            &mut columns[0],
            dialog,
            reasons,
            PricePart::OtherWoods,
            said::PRICE_OF_OTHER_WOODS,
            caption,
        );
        let ui = &mut columns[1];
        ui.label(RichText::new(said::BOARD_FEET_ARE_COUNTED_BY).small().color(Palette::of(ui.ctx()).faint));
        let combo = ComboBox::from_id_salt("feet").width(200.0).selected_text(dialog.feet.label());
        let response = combo.show_ui(ui, |ui| {
            for rule in FeetRule::ALL {
                ui.selectable_value(&mut dialog.feet, rule, rule.label());
            }
        });
        response.response.accessible_name(said::BOARD_FEET_RULE);
    });
    for pair in shop.woods.chunks(3) {
        ui.columns(3, |columns| {
            for (ui, wood) in columns.iter_mut().zip(pair) {
                let wrong = reasons.woods.get(&wood.id).map(String::as_str);
                let name = said::price_of(&wood.name);
                let entry = Entry { name: &name, caption: &wood.name, wrong };
                entry_ui(ui, dialog.woods.entry(wood.id.clone()).or_default(), &entry);
            }
        });
    }
}

/// The weights, in the order of [`Weights::all`].
const WEIGHTS: [&str; 9] = [
    said::ANOTHER_SETTING,
    said::ANOTHER_CUTTER,
    said::ANOTHER_BOARD_OF_THE_RACK,
    said::TWICE_OR_HALF_THE_SIZE,
    said::HALF_THE_DEPTH,
    said::A_CHANGED_DRAWING,
    said::ALL_OF_ITS_AREA_CHANGED,
    said::AN_ERRAND_TO_BUY_SOMETHING,
    said::PLANING_OR_JOINTING,
];

/// What advice is ranked by, folded away: few will change it.
fn weights_ui(ui: &mut egui::Ui, dialog: &mut PriceDialog, reasons: &Reasons) {
    let wrong = reasons.parts.get(&PricePart::Weights).map(String::as_str);
    CollapsingHeader::new(said::WHAT_ADVICE_IS_RANKED_BY).show(ui, |ui| {
        words_ui(ui, RichText::new(said::WHAT_A_CHANGE_IS_WORTH_AVOIDING).small());
        let mut fields = dialog.weights.iter_mut().zip(WEIGHTS);
        while let Some(first) = fields.next() {
            ui.columns(3, |columns| {
                let row = std::iter::once(first).chain(fields.by_ref().take(2));
                for (ui, (text, name)) in columns.iter_mut().zip(row) {
                    entry_ui(ui, text, &Entry { name, caption: name, wrong: None });
                }
            });
        }
        if let Some(wrong) = wrong {
            let palette = Palette::of(ui.ctx());
            words_ui(ui, RichText::new(wrong).small().color(palette.wrong));
        }
    });
}
