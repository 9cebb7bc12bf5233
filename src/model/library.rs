//! A whole library, and what belongs to none of its procedures.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use crate::model::body::Body;
use crate::model::catalogue::Catalogue;
use crate::model::equipment::{Equipment, Stage};
use crate::model::procedure::Procedure;
use crate::model::procedures::Procedures;
use crate::text::id::Id;
use crate::text::place::{At, Place, Sources};

#[derive(Clone, Debug, Default)]
pub struct Library {
    pub sources: Sources,
    pub settings: Settings,
    pub catalogue: Catalogue,
    pub equipment: Equipment,
    /// In file order.
    pub stages: Vec<Stage>,
    pub stop_card: Option<Leaflet>,
    pub approvals: Vec<Approval>,
    /// By id; of two files with one id the first by path.
    pub procedures: Procedures,
    pub leaflets: Vec<Leaflet>,
    /// Paths of the files under `pictures/`, relative to the library.
    pub pictures: BTreeSet<String>,
    /// BLAKE3 of the bytes of each picture that could be read, by path.
    pub picture_digests: BTreeMap<String, String>,
}

impl Library {
    pub fn procedure(&self, id: &Id) -> Option<&Procedure> {
        self.procedures.binary_search_by(|procedure| procedure.id.cmp(id)).ok().map(|index| &self.procedures[index])
    }

    /// The approval of a procedure that counts: the last one in the file.
    pub fn approval(&self, id: &Id) -> Option<&Approval> {
        self.approvals.iter().rev().find(|approval| approval.procedure.value == *id)
    }

    /// The models a procedure is for, in the order of `equipment.yaml`; names that the equipment lacks are left out.
    pub fn models_of(&self, procedure: &Procedure) -> Vec<&Id> {
        let all = self.equipment.models.iter().map(|model| &model.id);
        match &procedure.equipment {
            None => all.collect(),
            Some(names) => all.filter(|id| names.iter().any(|name| name.value == **id)).collect(),
        }
    }
}

/// `library.yaml`.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    pub title: Option<At<String>>,
    /// BCP 47; default `en`.
    pub language: Option<At<String>>,
    pub roles: Vec<At<String>>,
    pub site: Option<At<String>>,
    pub offline_days: Option<At<u32>>,
    pub rules: Vec<RuleSetting>,
}

impl Settings {
    pub fn title(&self) -> &str {
        self.title.as_ref().map_or("Untitled library", |title| title.value.as_str())
    }
    pub fn language(&self) -> &str {
        self.language.as_ref().map_or("en", |language| language.value.as_str())
    }
}

/// One entry of `rules` in `library.yaml`: a rule raised or lowered.
#[derive(Clone, Debug)]
pub struct RuleSetting {
    pub rule: At<Id>,
    /// `error`, `warning`, `note`, as written.
    pub severity: Option<At<String>>,
    pub reason: Option<At<String>>,
}

/// One entry of `approvals.yaml`.
#[derive(Clone, Debug)]
pub struct Approval {
    pub at: Place,
    pub procedure: At<Id>,
    pub revision: At<u32>,
    pub digest: At<String>,
    pub by: At<String>,
    pub on: At<Date>,
}

/// A plain page. `id` is the file's name without `.md`; `stop` for the stop card.
#[derive(Clone, Debug)]
pub struct Leaflet {
    pub id: Id,
    pub at: Place,
    pub title: Option<At<String>>,
    pub order: Option<At<i64>>,
    pub body: Body,
}
