//! Lower, read, trim on the demo's visits.

#[path = "../demo/books.rs"]
#[allow(dead_code)]
mod books;

mod feet;
mod hand;
