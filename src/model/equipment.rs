//! The machine models and the stages of imaging.

use crate::text::id::Id;
use crate::text::place::{At, Place};
use crate::text::quantity::Quantity;

#[derive(Clone, Debug, Default)]
pub struct Equipment {
    /// Where `equipment.yaml` begins; `None` if the library has none.
    pub at: Option<Place>,
    /// The file is there and cannot be understood at all.
    pub unreadable: bool,
    /// In file order.
    pub models: Vec<Model>,
}

impl Equipment {
    pub fn model(&self, id: &Id) -> Option<&Model> {
        self.models.iter().find(|model| model.id == *id)
    }
}

#[derive(Clone, Debug)]
pub struct Model {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    /// In file order.
    pub figures: Vec<(At<Id>, At<Quantity>)>,
    /// The table `repeats`: part and distance on paper, in file order.
    pub repeats: Vec<(At<Id>, At<Quantity>)>,
}

impl Model {
    pub fn figure(&self, id: &Id) -> Option<&At<Quantity>> {
        self.figures.iter().find(|(name, _)| name.value == *id).map(|(_, quantity)| quantity)
    }
    pub fn repeat(&self, part: &Id) -> Option<&At<Quantity>> {
        self.repeats.iter().find(|(name, _)| name.value == *part).map(|(_, quantity)| quantity)
    }
    pub fn title(&self) -> &str {
        self.name.as_ref().map_or(self.id.as_str(), |name| name.value.as_str())
    }
}

/// A stage of the imaging process.
#[derive(Clone, Debug)]
pub struct Stage {
    pub id: Id,
    pub at: Place,
    pub name: Option<At<String>>,
    pub does: Option<At<String>>,
    /// What goes wrong there, in words.
    pub faults: Vec<At<String>>,
}
