//! Placeholder, replaced within the first hours.
