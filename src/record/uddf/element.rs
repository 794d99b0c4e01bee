//! Which elements of UDDF mean something here.

/// An element by its place: `depth` in a `waypoint`, not in anything else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Element {
    Uddf,
    Diver,
    Owner,
    Personal,
    FirstName,
    LastName,
    GasDefinitions,
    Mix,
    Oxygen,
    Helium,
    Nitrogen,
    /// Argon or hydrogen: a gas that the model does not know.
    OtherGas,
    ProfileData,
    RepetitionGroup,
    Dive,
    Before,
    DateTime,
    Samples,
    Waypoint,
    DiveTime,
    Depth,
    TankPressure,
    SwitchMix,
    TankData,
    PressureBegin,
    PressureEnd,
    /// Passed over, with all that is in it.
    Other,
}

impl Element {
    /// An element by its name within another one; `None` is the file.
    pub(super) fn within(parent: Option<Self>, name: &str) -> Self {
        let Some(parent) = parent else {
            return if name == "uddf" {
                Self::Uddf
            } else {
                Self::Other
            };
        };
        match (parent, name) {
            (Self::Uddf, "diver") => Self::Diver,
            (Self::Diver, "owner") => Self::Owner,
            (Self::Owner, "personal") => Self::Personal,
            (Self::Personal, "firstname") => Self::FirstName,
            (Self::Personal, "lastname") => Self::LastName,
            (Self::Uddf, "gasdefinitions") => Self::GasDefinitions,
            (Self::GasDefinitions, "mix") => Self::Mix,
            (Self::Mix, "o2") => Self::Oxygen,
            (Self::Mix, "he") => Self::Helium,
            (Self::Mix, "n2") => Self::Nitrogen,
            (Self::Mix, "ar" | "h2") => Self::OtherGas,
            (Self::Uddf, "profiledata") => Self::ProfileData,
            (Self::ProfileData, "repetitiongroup") => Self::RepetitionGroup,
            (Self::RepetitionGroup, "dive") => Self::Dive,
            (Self::Dive, "informationbeforedive") => Self::Before,
            (Self::Before, "datetime") => Self::DateTime,
            (Self::Dive, "samples") => Self::Samples,
            (Self::Samples, "waypoint") => Self::Waypoint,
            (Self::Waypoint, "divetime") => Self::DiveTime,
            (Self::Waypoint, "depth") => Self::Depth,
            (Self::Waypoint, "tankpressure") => Self::TankPressure,
            (Self::Waypoint, "switchmix") => Self::SwitchMix,
            (Self::Dive, "tankdata") => Self::TankData,
            (Self::TankData, "tankpressurebegin") => Self::PressureBegin,
            (Self::TankData, "tankpressureend") => Self::PressureEnd,
            _ => Self::Other,
        }
    }

    /// Whether the element holds a word or a number, and no other element.
    pub(super) const fn holds_text(self) -> bool {
        matches!(
            self,
            Self::FirstName
                | Self::LastName
                | Self::Oxygen
                | Self::Helium
                | Self::Nitrogen
                | Self::OtherGas
                | Self::DateTime
                | Self::DiveTime
                | Self::Depth
                | Self::TankPressure
                | Self::PressureBegin
                | Self::PressureEnd
        )
    }
}
