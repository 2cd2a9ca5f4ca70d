//! Names that things are given, and names that are used.

use crate::diagnostic::{Named, Reference};
use crate::nearest::nearest;
use crate::report::{Report, quoted, short};
use crate::table::Group;
use crate::{Code, Span};
use std::collections::{BTreeMap, BTreeSet};

/// What a body or a rotation is carried by if by none of its kind.
const FRAME: &str = "frame";

/// For so many unknown names the nearest known one is looked for; a file with more has another fault.
const MOST_NEAREST: usize = 200;

fn bears_frame(group: Group) -> bool {
    matches!(group, Group::Body | Group::Rotation)
}

/// The names of things, by what they are and to what they belong.
pub(crate) struct Names<'a>(BTreeMap<(Group, Option<&'a str>), BTreeSet<&'a str>>);

impl<'a> Names<'a> {
    pub fn of(names: &'a [Named]) -> Self {
        let mut all = BTreeMap::<_, BTreeSet<&str>>::new();
        for named in names {
            all.entry((named.group, named.within.as_deref())).or_default().insert(&named.name);
        }
        Self(all)
    }

    /// Whether anything of the kind, belonging to the same, has a name.
    fn any_like(&self, used: &Reference) -> bool {
        self.0.contains_key(&(used.group, used.within.as_deref()))
    }

    /// What to say of a name that none of these things bears, and what would be right; `None` if one does.
    pub fn unresolved(&self, used: &Reference, look_for_nearest: bool) -> Option<(String, String)> {
        let known = self.0.get(&(used.group, used.within.as_deref()));
        if known.is_some_and(|known| known.contains(used.name.as_str())) {
            return None;
        }
        let noun = used.group.noun();
        let of = used.within.as_ref().map_or(String::new(), |owner| format!(" of \"{}\"", short(owner)));
        let message = format!("There is no {noun} called \"{}\"{of}.", short(&used.name));
        let known: Vec<&str> = known.into_iter().flatten().copied().collect();
        let near = if look_for_nearest { nearest(&used.name, &known) } else { None };
        let help = match near {
            Some(near) => format!("Did you mean \"{}\"?", short(near)),
            None if known.is_empty() => format!("No {noun}{of} is written."),
            None => format!("Its name is one of {}.", quoted(&known)),
        };
        Some((message, help))
    }
}

impl Report {
    /// Refuses names given twice, and names used that nothing in this file bears; what belongs to a group
    /// of another file is left for the check of the whole visit.
    pub fn resolve(&mut self, groups_elsewhere: &[Group]) {
        let mut names = core::mem::take(&mut self.names);
        names.retain(|named| !self.is_the_frame(named));
        self.repeated(&names);
        let (elsewhere, here): (Vec<Reference>, Vec<Reference>) = core::mem::take(&mut self.references)
            .into_iter()
            .partition(|used| groups_elsewhere.contains(&used.group));
        if !self.torn {
            self.unknown(&here, &Names::of(&names));
        }
        self.references = elsewhere;
        self.names = names;
    }

    /// Refuses the name that is kept for the frame.
    fn is_the_frame(&mut self, named: &Named) -> bool {
        let taken = named.name == FRAME && bears_frame(named.group);
        if taken {
            let message =
                format!("A {} cannot be called \"{FRAME}\": that is the frame itself.", named.group.noun());
            self.error(named.span, Code::RepeatedName, message, "Give it a name of its own.");
        }
        taken
    }

    fn repeated(&mut self, names: &[Named]) {
        let mut seen = BTreeMap::<_, Span>::new();
        for named in names {
            let first = *seen.entry((named.group, &named.within, &named.name)).or_insert(named.span);
            if first != named.span {
                let (line, _) = self.source.line_column(first.start);
                let message = format!(
                    "There is a {} called \"{}\" already, on line {line}.",
                    named.group.noun(),
                    short(&named.name)
                );
                self.error(named.span, Code::RepeatedName, message, "Give each its own name.");
            }
        }
    }

    fn unknown(&mut self, used: &[Reference], names: &Names<'_>) {
        let mut looked_for = 0;
        for used in used {
            if used.name == FRAME && bears_frame(used.group) {
                continue;
            }
            // Of a thing that was refused itself, or is not there, its own names are not known.
            if used.within.is_some() && !self.diagnostics.is_empty() && !names.any_like(used) {
                continue;
            }
            if let Some((message, help)) = names.unresolved(used, looked_for < MOST_NEAREST) {
                looked_for += 1;
                self.error(used.span, Code::UnknownName, message, help);
            }
        }
    }
}
