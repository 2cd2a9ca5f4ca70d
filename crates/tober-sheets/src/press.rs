//! From sheets to pages: the one place that knows the typesetter.
//!
//! It is given everything: the template, the data, the pictures and the fonts are in memory, and every other file,
//! package or font is refused. It has no clock. So the same sheets give the same bytes everywhere.

use crate::error::SheetsError;
use std::collections::BTreeMap;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

const TEMPLATE: &str = include_str!("pack.typ");

/// The faces of the pack; `crates/tober-draw/fonts/README.md` says whose they are and on what terms.
const FONTS: [&[u8]; 3] = [
    include_bytes!("../../tober-draw/fonts/Roboto-Regular.ttf"),
    include_bytes!("../../tober-draw/fonts/Roboto-Bold.ttf"),
    include_bytes!("../../tober-draw/fonts/RobotoSlab-Bold.otf"),
];

/// How many documents of the past the typesetter's memory keeps anything for.
const KEPT_ROUNDS: usize = 2;

/// Everything that the typesetter may read.
struct Desk {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    main: Source,
    files: BTreeMap<String, Bytes>,
}

/// The place of a file on the desk.
fn place(name: &str) -> Result<FileId, SheetsError> {
    let path = VirtualPath::new(name).map_err(|_| SheetsError::fault("a name of ours is no path"))?;
    Ok(FileId::new(RootedPath::new(VirtualRoot::Project, path)))
}

/// The fonts, in the order of their list.
pub(crate) fn fonts() -> Vec<Font> {
    FONTS.iter().filter_map(|font| Font::new(Bytes::new(*font), 0)).collect()
}

impl Desk {
    fn new(files: BTreeMap<String, Vec<u8>>) -> Result<Self, SheetsError> {
        let fonts = fonts();
        if fonts.len() != FONTS.len() {
            return Err(SheetsError::fault("a font of ours cannot be read"));
        }
        Ok(Self {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            main: Source::new(place("pack.typ")?, TEMPLATE.to_owned()),
            files: files.into_iter().map(|(name, bytes)| (name, Bytes::new(bytes))).collect(),
        })
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }
    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }
    fn main(&self) -> FileId {
        self.main.id()
    }
    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(FileError::AccessDenied) }
    }
    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let named = id.get();
        if !matches!(named.root(), VirtualRoot::Project) {
            return Err(FileError::AccessDenied);
        }
        self.files.get(named.vpath().get_without_slash()).cloned().ok_or(FileError::AccessDenied)
    }
    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// The sheets laid out as pages.
pub(crate) fn pages(files: BTreeMap<String, Vec<u8>>) -> Result<PagedDocument, SheetsError> {
    let desk = Desk::new(files)?;
    let laid = typst::compile::<PagedDocument>(&desk);
    if let Some(warning) = laid.warnings.first() {
        return Err(SheetsError::fault(&said(warning)));
    }
    laid.output.map_err(|errors| SheetsError::fault(&errors.iter().map(said).collect::<Vec<_>>().join("; ")))
}

/// The pages as a PDF that keeps to PDF/UA-1 and, where it has a date, which that standard asks for, to PDF/A-2a; or
/// nothing: the typesetter refuses what does not.
pub(crate) fn pdf(document: &PagedDocument, name: &str, dated: bool) -> Result<Vec<u8>, SheetsError> {
    let both = [PdfStandard::Ua_1, PdfStandard::A_2a];
    let standards = PdfStandards::new(if dated { &both } else { &both[..1] })
        .map_err(|error| SheetsError::fault(error.message()))?;
    let options = PdfOptions {
        ident: Smart::Custom(name.to_owned()),
        creator: Smart::Custom(Some(concat!("tober ", env!("CARGO_PKG_VERSION")).to_owned())),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(document, &options)
        .map_err(|errors| SheetsError::fault(&errors.iter().map(said).collect::<Vec<_>>().join("; ")));
    typst::comemo::evict(KEPT_ROUNDS);
    bytes
}

fn said(diagnostic: &SourceDiagnostic) -> String {
    let hints: Vec<String> = diagnostic.hints.iter().map(|hint| hint.v.to_string()).collect();
    if hints.is_empty() {
        diagnostic.message.to_string()
    } else {
        format!("{} ({})", diagnostic.message, hints.join("; "))
    }
}
