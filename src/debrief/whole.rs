//! All records of a dive together, held against its plan.

use super::dive::{Against, RealDive};
use super::error::DebriefError;
use super::finding::Found;
use super::held::findings;
use crate::briefing::{Briefing, brief};
use crate::finding::Weight;
use crate::letters::composed;
use crate::plan::Plan;
use crate::quantity::{BreathingRate, nearest};
use crate::record::{PencilLog, SampledLog};

/// Consumptions of one diver.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Consumption {
    /// For the next plan: the highest.
    pub suggested: BreathingRate,
    /// The one in the middle; of an even number the mean of the two there.
    pub median: BreathingRate,
    /// The lowest.
    pub least: BreathingRate,
    /// How many records it is of.
    pub records: usize,
}

/// A dive as it was, beside its plan.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Debrief {
    /// The dive as it was planned.
    pub briefing: Briefing,
    /// The recorded dives, in the order of the records.
    pub dives: Vec<RealDive>,
    /// What each diver breathed, in the order of the plan; `None` where no record tells.
    pub consumptions: Vec<Option<Consumption>>,
    /// Findings: no-gos first, then cautions, then notes; each weight's in the order of the records.
    pub findings: Vec<Found>,
}

impl Debrief {
    /// Whether something needs more than a calculation.
    #[must_use]
    pub fn is_no_go(&self) -> bool {
        self.findings
            .iter()
            .any(|found| found.weight() == Weight::NoGo)
    }

    /// The plan.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.briefing.plan
    }

    /// The dives of a diver of the plan.
    pub fn dives_of(&self, diver: usize) -> impl Iterator<Item = &RealDive> {
        self.dives.iter().filter(move |dive| dive.diver == diver)
    }

    /// Divers of the plan without a record.
    pub fn unrecorded(&self) -> impl Iterator<Item = &str> {
        let divers = self.plan().divers().iter().enumerate();
        divers
            .filter(|(index, _)| self.dives_of(*index).next().is_none())
            .map(|(_, diver)| diver.name.as_str())
    }
}

/// Takes the records of a dive one after the other.
///
/// # Example
/// ```
/// use hangbar::debrief::Debriefing;
/// use hangbar::plan_file;
/// use hangbar::quantity::{Depth, Time};
/// use hangbar::record::{Reading, SampledLog};
///
/// let plan = plan_file::read(
///     "[profile]\ndepth = \"18 m\"\nbottom_time = \"20 min\"\n[[diver]]\nname = \"Noor\"\n\
///      sac = \"15 L/min\"\ncylinder = { size = \"12 L\", fill = \"200 bar\" }",
/// )?;
/// let at = |minute, metres| Reading::new(Time::from_min(minute), Depth::from_m(metres), 1);
/// let log = SampledLog::new(vec![at(0.0, 0.0), at(2.0, 18.0), at(20.0, 18.0), at(24.0, 0.0)]);
/// let mut debriefing = Debriefing::of(plan)?;
/// debriefing.sampled("noor.csv", None, &log)?;
/// let debrief = debriefing.end()?;
/// assert_eq!(debrief.dives[0].greatest_depth, Depth::from_m(18.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Debriefing {
    briefing: Briefing,
    dives: Vec<RealDive>,
}

impl Debriefing {
    /// Of a plan, with no record so far.
    ///
    /// # Errors
    /// [`DebriefError::NoDiver`] of a plan without divers, [`DebriefError::Plan`] of one that has
    /// no briefing.
    pub fn of(plan: Plan) -> Result<Self, DebriefError> {
        if plan.divers().is_empty() {
            return Err(DebriefError::NoDiver);
        }
        Ok(Self {
            briefing: brief(plan)?,
            dives: Vec::new(),
        })
    }

    /// The plan.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.briefing.plan
    }

    /// One more dive of a logger; `named` is whose the caller says it is.
    ///
    /// # Errors
    /// [`DebriefError`] where nobody of the plan has dived it.
    pub fn sampled(
        &mut self,
        file: &str,
        named: Option<&str>,
        log: &SampledLog,
    ) -> Result<(), DebriefError> {
        let diver = self.whose(file, named.or(log.diver.as_deref()))?;
        let dive = self.against().sampled(diver, file, log)?;
        self.dives.push(dive);
        Ok(())
    }

    /// One more dive that was written down with a pencil.
    ///
    /// # Errors
    /// [`DebriefError`] where nobody of the plan has dived it, or nobody can have.
    pub fn pencilled(&mut self, file: &str, log: &PencilLog) -> Result<(), DebriefError> {
        let diver = self.whose(file, Some(&log.diver))?;
        let dive = self.against().pencilled(diver, file, log)?;
        self.dives.push(dive);
        Ok(())
    }

    const fn against(&self) -> Against<'_> {
        Against {
            plan: &self.briefing.plan,
            briefing: &self.briefing,
        }
    }

    fn whose(&self, file: &str, name: Option<&str>) -> Result<usize, DebriefError> {
        let divers = self.plan().divers();
        let names = || divers.iter().map(|diver| diver.name.clone()).collect();
        let Some(name) = name.map(|name| composed(name.trim())) else {
            return match divers {
                [_] => Ok(0),
                _ => Err(DebriefError::Whose {
                    file: file.to_owned(),
                    names: names(),
                }),
            };
        };
        let known = divers.iter().position(|diver| diver.name == name);
        known.ok_or_else(|| DebriefError::Nobody {
            file: file.to_owned(),
            meant: nearest(&name, divers.iter().map(|diver| diver.name.as_str()))
                .map(str::to_owned),
            name,
            names: names(),
        })
    }

    /// The debrief of all records.
    ///
    /// # Errors
    /// [`DebriefError::NoRecord`] of none.
    pub fn end(self) -> Result<Debrief, DebriefError> {
        if self.dives.is_empty() {
            return Err(DebriefError::NoRecord);
        }
        let divers = 0..self.plan().divers().len();
        let consumptions = divers.map(|diver| consumption(&self.dives, diver));
        Ok(Debrief {
            consumptions: consumptions.collect(),
            findings: findings(&self.briefing, &self.dives),
            briefing: self.briefing,
            dives: self.dives,
        })
    }
}

fn consumption(dives: &[RealDive], diver: usize) -> Option<Consumption> {
    let own = dives.iter().filter(|dive| dive.diver == diver);
    let rates = own.filter_map(|dive| dive.breathed.rate.ok());
    let mut rates: Vec<f64> = rates.map(BreathingRate::as_l_min).collect();
    rates.sort_by(f64::total_cmp);
    let (least, greatest) = (*rates.first()?, *rates.last()?);
    let (low, high) = (rates[(rates.len() - 1) / 2], rates[rates.len() / 2]);
    Some(Consumption {
        suggested: BreathingRate::from_l_min(greatest),
        median: BreathingRate::from_l_min(f64::midpoint(low, high)),
        least: BreathingRate::from_l_min(least),
        records: rates.len(),
    })
}
