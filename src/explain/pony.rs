//! What a pony bottle is good for.

use super::bottle::{Bottle, LITRES, Rounded, volume};
use super::expression::Expression;
use super::gas::Gas;
use super::sheet::{Line, Sheet};
use super::site::plain;
use crate::gas::{PONY_EMPTY, PonyBudget, PonyVerdict};
use crate::plan::Pony;

impl Gas<'_> {
    /// Needs, contents and verdict. `full` is the exposure of the way up with every stop, where
    /// the reserve has it already.
    pub(super) fn write_pony(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        full: Option<Expression>,
        (pony, budget): (&Pony, &PonyBudget),
    ) {
        let direct = &self.ends[budget.ascent_from];
        sheet.words(format!(
            "The pony: {} alone, breathing as hard, from the worst moment. First straight up \
             without a stop: {}.",
            self.diver.name,
            self.moment(&direct.moment)
        ));
        let parts = self.exposures(sheet, surface, &direct.emergency.direct, "Y");
        let direct = self.added(sheet, "Y", &parts);
        let named = ("Need for a straight ascent", "N_ascent");
        let rounded = (budget.need_ascent.as_l(), Rounded::Up);
        let need_ascent = self.need(sheet, named, direct, rounded);
        let full = full.unwrap_or_else(|| {
            let end = &self.ends[budget.full_from];
            let moment = self.moment(&end.moment);
            sheet.words(format!("Then with every stop: {moment}."));
            let parts = self.exposures(sheet, surface, end.emergency.deciding(), "W");
            self.added(sheet, "W", &parts)
        });
        let named = ("Need for the ascent with every stop", "N_full");
        let rounded = (budget.need_full.as_l(), Rounded::Up);
        let need_full = self.need(sheet, named, full, rounded);
        let have = self.pony_gives(sheet, surface, (pony, budget));
        let short_of_all = budget.verdict != PonyVerdict::CoversAll;
        let missing = need_full - have.clone();
        self.missing(sheet, "Missing for every stop", missing, short_of_all);
        if short_of_all {
            let short = budget.verdict == PonyVerdict::Short;
            let missing = need_ascent - have;
            self.missing(sheet, "Missing for a straight ascent", missing, short);
        }
        sheet.words(match budget.verdict {
            PonyVerdict::CoversAll => "Not above 0: it covers the way up with every stop.",
            PonyVerdict::CoversAscentOnly => "It covers a straight ascent, but not the stops.",
            PonyVerdict::Short => "It does not even cover a straight ascent.",
        });
    }

    fn need(
        &self,
        sheet: &mut Sheet,
        (title, symbol): (&str, &str),
        exposure: Expression,
        rounded: (f64, Rounded),
    ) -> Expression {
        let own = self.breathing(sheet);
        let stress = self.stress(sheet);
        let line = Line {
            title: title.to_owned(),
            symbol,
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        volume(
            sheet,
            self.site.show,
            line,
            own * stress * exposure,
            rounded,
        )
    }

    /// What the pony gives: from its fill down to where it counts as empty.
    fn pony_gives(
        &self,
        sheet: &mut Sheet,
        surface: &Expression,
        (pony, budget): (&Pony, &PonyBudget),
    ) -> Expression {
        let mix = budget.gas;
        let named = ("V_pony", format!("{}'s pony", self.diver.name));
        let bottle = Bottle::new(self.site, pony.cylinder.water, named, mix, self.gauge);
        let full = bottle.contents(
            sheet,
            surface,
            ("What the pony holds", "H_fill"),
            ("p_pony", "the pony's fill, bar", pony.cylinder.fill),
        );
        let rest = bottle.contents(
            sheet,
            surface,
            ("What stays in it", "H_rest"),
            ("p_rest", "where a pony counts as empty, bar", PONY_EMPTY),
        );
        let given = full - rest;
        if given.unrounded() < 0.0 {
            self.missing(sheet, "What the pony gives", given, false);
            sheet.words("Not above 0: it gives nothing.");
            return plain(0.0);
        }
        let line = Line {
            title: "What the pony gives".to_owned(),
            symbol: "H",
            unit: "L",
            decimals: sheet.working(LITRES),
        };
        let model = (budget.have.as_l(), Rounded::Down);
        volume(sheet, self.site.show, line, given, model)
    }
}
