//! Signs of charge and the voltages that move toner: which combinations can print, and what sheet each dead stage gives.
//!
//! Toner goes where the field pushes it: negative toner towards the more positive place. So whether an area of the drum takes toner follows from its
//! potential against the bias of the developer, and nothing else is needed to say what a sheet looks like when a stage is dead. (Pai and Springett,
//! Rev. Mod. Phys. 65, 163, 1993; the rules of signs are those of textbooks on electrophotography.)

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    Negative,
    Positive,
}

impl Sign {
    pub const BOTH: [Sign; 2] = [Sign::Negative, Sign::Positive];

    pub fn of(volts: f64) -> Self {
        if volts < 0.0 { Sign::Negative } else { Sign::Positive }
    }

    fn times(self, volts: f64) -> f64 {
        match self {
            Sign::Negative => -volts,
            Sign::Positive => volts,
        }
    }

    pub fn opposite(self) -> Self {
        match self {
            Sign::Negative => Sign::Positive,
            Sign::Positive => Sign::Negative,
        }
    }

    /// As it is printed; the minus is a true one.
    pub fn as_str(self) -> &'static str {
        match self {
            Sign::Negative => "\u{2212}",
            Sign::Positive => "+",
        }
    }
}

/// Which area of the drum is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Development {
    /// The beam takes the charge away where the page is to be black.
    Discharged,
    /// The beam takes the charge away where the page is to stay white.
    Charged,
}

impl Development {
    pub const BOTH: [Development; 2] = [Development::Discharged, Development::Charged];

    pub fn as_str(self) -> &'static str {
        match self {
            Development::Discharged => "discharged",
            Development::Charged => "charged",
        }
    }
}

/// The signs of one machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signs {
    pub development: Development,
    pub drum: Sign,
    pub toner: Sign,
    pub transfer: Sign,
}

/// A rule of signs that is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Broken {
    /// Toner would go to the area that is to stay white.
    Toner,
    /// Transfer would push toner back to the drum.
    Transfer,
}

impl Broken {
    pub fn as_str(self) -> &'static str {
        match self {
            Broken::Toner => "toner",
            Broken::Transfer => "transfer",
        }
    }
}

impl Signs {
    /// Every combination there is.
    pub fn all() -> Vec<Signs> {
        let each = Development::BOTH.into_iter().flat_map(|development| {
            Sign::BOTH.into_iter().flat_map(move |drum| {
                Sign::BOTH
                    .into_iter()
                    .flat_map(move |toner| Sign::BOTH.into_iter().map(move |transfer| Signs { development, drum, toner, transfer }))
            })
        });
        each.collect()
    }

    /// What keeps this combination from printing; nothing if it can.
    pub fn broken(self) -> Vec<Broken> {
        let toner = match self.development {
            Development::Discharged => self.drum,
            Development::Charged => self.drum.opposite(),
        };
        let wrong = [(self.toner != toner, Broken::Toner), (self.transfer == self.toner, Broken::Transfer)];
        wrong.into_iter().filter(|(wrong, _)| *wrong).map(|(_, broken)| broken).collect()
    }
}

/// Potentials of one machine, in volts against the frame, with their signs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Potentials {
    pub development: Development,
    pub toner: Sign,
    /// The drum after charging.
    pub dark: f64,
    /// The drum where the beam was.
    pub exposed: f64,
    /// The developer roller.
    pub bias: f64,
    /// The transfer roller behind the paper.
    pub transfer: f64,
}

/// The two kinds, with demo values.
pub const DEMO: [Potentials; 2] = [
    Potentials {
        development: Development::Discharged,
        toner: Sign::Negative,
        dark: -600.0,
        exposed: -100.0,
        bias: -350.0,
        transfer: 1000.0,
    },
    Potentials { development: Development::Charged, toner: Sign::Negative, dark: 800.0, exposed: 100.0, bias: 300.0, transfer: 1500.0 },
];

/// What is wrong with a set of potentials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unfit {
    /// Drum and bias are not of one sign.
    OneSign,
    /// The bias does not lie between the exposed and the unexposed drum.
    Between,
    Signs(Broken),
    /// Transfer does not outweigh the drum.
    TooWeak,
}

impl Potentials {
    /// From the four voltages of a model: toner carries the sign opposite to transfer, and that tells which area is printed.
    pub fn of(dark: f64, exposed: f64, bias: f64, transfer: f64) -> Self {
        let toner = Sign::of(transfer).opposite();
        let development = if toner == Sign::of(dark) { Development::Discharged } else { Development::Charged };
        Self { development, toner, dark, exposed, bias, transfer }
    }

    pub fn signs(&self) -> Signs {
        Signs { development: self.development, drum: Sign::of(self.dark), toner: self.toner, transfer: Sign::of(self.transfer) }
    }

    /// Why a machine with these potentials could not print.
    pub fn unfit(&self) -> Vec<Unfit> {
        let one_sign = [self.exposed, self.bias].into_iter().all(|volts| volts == 0.0 || Sign::of(volts) == Sign::of(self.dark));
        let between = self.exposed.abs() < self.bias.abs() && self.bias.abs() < self.dark.abs();
        let mut unfit: Vec<Unfit> = self.signs().broken().into_iter().map(Unfit::Signs).collect();
        unfit.extend((!one_sign).then_some(Unfit::OneSign));
        unfit.extend((!between).then_some(Unfit::Between));
        unfit.extend((unfit.is_empty() && self.to_paper() <= 0.0).then_some(Unfit::TooWeak));
        unfit
    }

    /// How strongly an area is drawn full of toner; negative if toner stays on the developer roller.
    pub fn pull(&self, surface: f64) -> f64 {
        self.toner.opposite().times(surface - self.bias)
    }

    /// The potential of the area that is to be black.
    pub fn image(&self) -> f64 {
        match self.development {
            Development::Discharged => self.exposed,
            Development::Charged => self.dark,
        }
    }

    /// The potential of the area that is to stay white.
    pub fn background(&self) -> f64 {
        match self.development {
            Development::Discharged => self.dark,
            Development::Charged => self.exposed,
        }
    }

    /// How strongly the toner of the image is drawn to the paper.
    pub fn to_paper(&self) -> f64 {
        self.toner.opposite().times(self.transfer - self.image())
    }
}

/// A stage that can be dead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dead {
    Processing,
    Charging,
    Exposing,
    Developing,
    Transferring,
    Fusing,
    Cleaning,
    /// The lamp that takes the charge left from the drum; part of the stage of cleaning.
    Erasing,
}

impl Dead {
    pub const ALL: [Dead; 8] = [
        Dead::Processing,
        Dead::Charging,
        Dead::Exposing,
        Dead::Developing,
        Dead::Transferring,
        Dead::Fusing,
        Dead::Cleaning,
        Dead::Erasing,
    ];

    pub fn as_str(self) -> &'static str {
        match self {
            Dead::Processing => "processing",
            Dead::Charging => "charging",
            Dead::Exposing => "exposing",
            Dead::Developing => "developing",
            Dead::Transferring => "transferring",
            Dead::Fusing => "fusing",
            Dead::Cleaning => "cleaning",
            Dead::Erasing => "erasing",
        }
    }
}

/// How much toner an area has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    None,
    /// Less than half the pull of a good machine.
    Pale,
    Full,
}

impl Tone {
    fn of(pull: f64, usual: f64) -> Self {
        if pull <= 0.0 {
            Tone::None
        } else if pull < usual / 2.0 {
            Tone::Pale
        } else {
            Tone::Full
        }
    }

    pub fn as_str(self) -> &'static str {
        match self {
            Tone::None => "none",
            Tone::Pale => "pale",
            Tone::Full => "full",
        }
    }
}

/// What comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    pub image: Tone,
    pub background: Tone,
    /// Volts that draw toner to the image and to the background of the drum.
    pub pulls: (f64, f64),
    /// Volts that draw the image to the paper.
    pub to_paper: f64,
    /// The finished image is still on the drum.
    pub left_on_drum: bool,
    pub rubs_off: bool,
    /// The image comes back one turn of the drum further down.
    pub ghost: bool,
    /// Cut off, or not what was sent.
    pub wrong_content: bool,
}

impl Sheet {
    /// What somebody sees: the key of a sentence.
    pub fn look(&self) -> &'static str {
        match (self.image, self.background) {
            _ if self.wrong_content => "wrong-content",
            _ if self.ghost => "ghost",
            _ if self.rubs_off => "rubs-off",
            (Tone::None, Tone::None) => "white",
            (Tone::Full, Tone::Full) => "black",
            (Tone::Full, Tone::Pale) => "veil",
            (Tone::Pale, Tone::None) => "pale",
            (Tone::Full, Tone::None) => "good",
            (_, Tone::Pale | Tone::Full) => "reversed",
        }
    }
}

/// The sheet that a machine with a dead stage gives; `None` is a sound machine.
pub fn sheet(sound: &Potentials, dead: Option<Dead>) -> Sheet {
    let mut now = *sound;
    match dead {
        // No charge: there is nothing for the beam to take away.
        Some(Dead::Charging) => (now.dark, now.exposed) = (0.0, 0.0),
        Some(Dead::Exposing) => now.exposed = now.dark,
        Some(Dead::Developing) => now.bias = 0.0,
        Some(Dead::Transferring) => now.transfer = 0.0,
        Some(Dead::Processing | Dead::Fusing | Dead::Cleaning | Dead::Erasing) | None => {}
    }
    let usual = sound.pull(sound.image());
    let pulls = (now.pull(now.image()), now.pull(now.background()));
    let (image, background) = (Tone::of(pulls.0, usual), Tone::of(pulls.1, usual));
    let to_paper = now.to_paper();
    let carried = Tone::of(to_paper, sound.to_paper());
    Sheet {
        image: image.min(carried),
        background: background.min(carried),
        pulls,
        to_paper,
        left_on_drum: image > image.min(carried),
        rubs_off: dead == Some(Dead::Fusing),
        ghost: matches!(dead, Some(Dead::Cleaning | Dead::Erasing)),
        wrong_content: dead == Some(Dead::Processing),
    }
}

/// Where a stage stands around the drum, in degrees from charging along its turn: demo values.
pub const STATIONS: [(Dead, f64); 6] = [
    (Dead::Charging, 0.0),
    (Dead::Exposing, 50.0),
    (Dead::Developing, 120.0),
    (Dead::Transferring, 205.0),
    (Dead::Cleaning, 275.0),
    (Dead::Erasing, 320.0),
];
/// From transfer to the fuser along the paper, in millimetres: demo value.
const TO_FUSER: f64 = 110.0;
/// How far the controller is ahead of the beam, in seconds: demo value.
const AHEAD: f64 = 0.4;

/// When each stage works on one sheet: from and to, in seconds from the first charged spot.
pub fn times(circumference: f64, speed: f64, length: f64) -> Vec<(Dead, f64, f64)> {
    let at = |degrees: f64| degrees / 360.0 * circumference / speed;
    let of = |stage: Dead| STATIONS.iter().find(|(one, _)| *one == stage).map_or(0.0, |(_, degrees)| at(*degrees));
    let lasts = length / speed;
    let starts = Dead::ALL.map(|stage| match stage {
        Dead::Processing => (stage, of(Dead::Exposing) - AHEAD),
        Dead::Fusing => (stage, of(Dead::Transferring) + TO_FUSER / speed),
        other => (other, of(other)),
    });
    starts.into_iter().map(|(stage, start)| (stage, start, start + lasts)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bias_at_either_edge_is_not_between() {
        let unfit = |dark: f64, exposed: f64, bias: f64| Potentials::of(dark, exposed, bias, 1500.0).unfit().contains(&Unfit::Between);
        for (bias, expected) in
            [(-100.0, true), (-100.5, false), (-350.0, false), (-599.5, false), (-600.0, true), (-700.0, true), (0.0, true)]
        {
            assert_eq!(unfit(-600.0, -100.0, bias), expected, "{bias}");
        }
    }
}
