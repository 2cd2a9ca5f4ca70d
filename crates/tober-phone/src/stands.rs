//! What stands of everything that was entered: the entries, folded.

use std::collections::BTreeMap;

/// What stands of one thing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Stand {
    /// What was entered. Empty where it was taken back.
    pub value: String,
    /// The entry that says so.
    pub entry: String,
    /// The plan it was entered for.
    pub plan: Option<String>,
    /// When it was written, as the clock of the phone said: "05:41".
    pub at: String,
    /// The same as milliseconds, by the clock that never steps back.
    pub at_ms: u64,
    /// The tag of who entered it.
    pub by: String,
    /// All that the entry says.
    pub more: BTreeMap<String, String>,
    /// Other values that stand beside it: nobody has settled which is right.
    pub others: Vec<String>,
}

/// What stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stands {
    things: BTreeMap<String, Stand>,
}

impl Stands {
    /// What stands of these things.
    pub(crate) fn of(things: BTreeMap<String, Stand>) -> Self {
        Self { things }
    }

    /// What stands of a thing, if anybody entered it and nobody took it back.
    pub(crate) fn get(&self, what: &str) -> Option<&Stand> {
        self.things.get(what).filter(|stand| !stand.value.is_empty() || !stand.others.is_empty())
    }

    /// Its value, where one alone stands.
    pub(crate) fn value(&self, what: &str) -> Option<&str> {
        self.get(what).filter(|stand| stand.others.is_empty()).map(|stand| stand.value.as_str())
    }

    /// A thing that was entered for a plan, where it was.
    pub(crate) fn for_plan(&self, what: &str, plan: &str) -> Option<&Stand> {
        self.get(what).filter(|stand| stand.others.is_empty() && stand.plan.as_deref() == Some(plan))
    }

    /// Everything that stands, in the order of its names.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (&str, &Stand)> {
        self.things.iter().map(|(what, stand)| (what.as_str(), stand))
    }
}
