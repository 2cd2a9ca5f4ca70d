//! Whether the files of a visit agree with each other.

use crate::names::Names;
use crate::{Code, Diagnostic, Group, Kit, LoweredFrame, Parsed, Pitch, Ride, Visit};

/// What is wrong between the files of a visit: names that one uses and none of the others bears,
/// and limits of the visit that are looser than the maker's.
///
/// What the pitch and the visit say of supports and bodies is looked for in the ride book, and the tools of
/// its steps in the kit. A file that has errors of its own is still used for the names it gives.
pub fn disagreements(
    ride: &Parsed<Ride>,
    kit: &Parsed<Kit>,
    pitch: &Parsed<Pitch>,
    visit: &Parsed<Visit>,
) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    // A kit that lists no tools says nothing of which there are.
    let lists_tools = kit.names.iter().any(|named| named.group == Group::Tool);
    if lists_tools {
        look(ride, Group::Tool, kit, &mut found);
    }
    look(pitch, Group::Support, ride, &mut found);
    look(pitch, Group::Guy, ride, &mut found);
    look(visit, Group::Body, ride, &mut found);
    if let (Some(ride), Some(limits)) = (&ride.value, visit.value.as_ref().and_then(|v| v.limits.as_ref())) {
        for key in ride.limits.as_ref().map(|makers| limits.looser_than(makers)).unwrap_or_default() {
            let message = format!("`{key}` is not stricter than the maker's, or cannot be compared with it.");
            let help =
                "A limit of your own may only be stricter than the one in the ride book, in like terms.";
            let span = limits.place.key(key);
            found.push(Diagnostic::new(&visit.source, span, Code::Disagreement, message, help.to_owned()));
        }
    }
    found.sort_by(|a, b| (&a.file, a.span).cmp(&(&b.file, b.span)));
    found
}

/// What is wrong between what was read of a lowered frame and the ride book: legs that the book has not.
pub fn frame_disagreements(frame: &Parsed<LoweredFrame>, ride: &Parsed<Ride>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    look(frame, Group::Support, ride, &mut found);
    found
}

/// Looks for the names of a group that one file uses among those that another gives.
pub(crate) fn look<U, G>(user: &Parsed<U>, group: Group, giver: &Parsed<G>, found: &mut Vec<Diagnostic>) {
    // Of a file that could not be read to its end, names may be missing that are there.
    if giver.diagnostics.iter().any(|d| d.code == Code::Syntax) {
        return;
    }
    let names = Names::of(&giver.names);
    for used in user.references.iter().filter(|used| used.group == group) {
        if let Some((message, help)) = names.unresolved(used, found.len() < 200) {
            found.push(Diagnostic::new(&used.source, used.span, Code::UnknownName, message, help));
        }
    }
}
