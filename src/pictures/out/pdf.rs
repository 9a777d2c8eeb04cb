//! Tagged PDF, held to PDF/UA-1: pages of a sheet with their table, rows and cells in reading
//! order, and each drawing with what it shows in words.
//!
//! No date and a fixed document id, so that the same sheet gives the same bytes. A row of stitches
//! is drawn flat: sheets are for counting.

use std::num::NonZeroU16;

use krilla::Document;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineCap, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag, TableHeaderScope};
use krilla::tagging::{Tag, TagGroup, TagTree};
use krilla::text::{Font, TextDirection};

use super::super::list::{Area, DisplayList, Item, Line, Rgb, Role, Text, Weight};
use super::super::text::{BOLD, REGULAR};
use super::DrawFault;

/// Pages as one document. The first gives it its title and language.
///
/// # Errors
/// [`DrawFault::Pdf`] where there is no page, or the document would break PDF/UA-1.
pub fn pdf(pages: &[DisplayList]) -> Result<Vec<u8>, DrawFault> {
    let fault = |what: &str| DrawFault::Pdf(what.to_owned());
    let first = pages.first().ok_or_else(|| fault("no page"))?;
    let font = |bytes: &'static [u8]| Font::new(bytes.to_vec().into(), 0);
    let (Some(regular), Some(bold)) = (font(REGULAR), font(BOLD)) else {
        return Err(fault("no fonts"));
    };
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| DrawFault::Pdf(format!("{error:?}")))?;
    let settings = SerializeSettings { configuration, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    let language = first.language.to_owned();
    let metadata = Metadata::new()
        .title(first.title.clone())
        .language(language.clone())
        .creator("Duskrow".to_owned())
        .document_id(first.title.clone());
    document.set_metadata(metadata);
    let mut tree = TagTree::new().with_lang(Some(language));
    let mut outline = Outline::new();
    for (index, list) in pages.iter().enumerate() {
        let top = XyzDestination::new(index, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(list.title.clone(), top));
        let settings = PageSettings::from_wh(list.width, list.height);
        let mut page = document.start_page_with(settings.ok_or_else(|| fault("no room"))?);
        let surface = page.surface();
        draw(list, Writer { surface, regular: regular.clone(), bold: bold.clone() }, &mut tree);
        page.finish();
    }
    document.set_outline(outline);
    document.set_tag_tree(tree);
    document.finish().map_err(|error| DrawFault::Pdf(said(&error)))
}

/// What went wrong, without the text it went wrong at: that may be a maker's, and this is logged.
fn said(error: &KrillaError) -> String {
    match error {
        KrillaError::Validation(broken) => format!("{} rules of PDF/UA-1 broken", broken.len()),
        _ => "it could not be put together".to_owned(),
    }
}

fn draw(list: &DisplayList, mut writer: Writer<'_>, tree: &mut TagTree) {
    let mut groups = Groups { open: Vec::new(), tree, title: &list.title };
    for item in &list.items {
        groups.take(item, &mut writer);
    }
    writer.surface.finish();
}

/// The roles that are open, outermost first.
struct Groups<'a> {
    open: Vec<TagGroup>,
    tree: &'a mut TagTree,
    title: &'a str,
}

impl Groups<'_> {
    fn take(&mut self, item: &Item, writer: &mut Writer<'_>) {
        match item {
            Item::Open(role) => self.open.push(group(role, self.title)),
            Item::Close => {
                let Some(group) = self.open.pop() else { return };
                match self.open.last_mut() {
                    Some(outer) => outer.push(group),
                    None => self.tree.push(group),
                }
            }
            Item::Rect(..) | Item::Line(_) | Item::Text(_) | Item::Stitches(_) => {
                let tag = match (self.open.last(), item) {
                    (None, _) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Other)),
                    (Some(_), Item::Text(_)) => ContentTag::Span(SpanTag::empty()),
                    (Some(_), _) => ContentTag::Other,
                };
                let id = writer.surface.start_tagged(tag);
                writer.draw(item);
                writer.surface.end_tagged();
                if let Some(group) = self.open.last_mut() {
                    group.push(id);
                }
            }
        }
    }
}

fn group(role: &Role, title: &str) -> TagGroup {
    match role {
        Role::Title => TagGroup::new(Tag::Hn(NonZeroU16::MIN, Some(title.to_owned()))),
        Role::Paragraph => TagGroup::new(Tag::P),
        Role::Table => TagGroup::new(Tag::Table),
        Role::HeadRow | Role::Row => TagGroup::new(Tag::TR),
        Role::HeadCell => TagGroup::new(Tag::TH(TableHeaderScope::Column)),
        Role::Cell => TagGroup::new(Tag::TD),
        Role::Figure(alt) => TagGroup::new(Tag::Figure(Some(alt.clone()))),
    }
}

struct Writer<'a> {
    surface: Surface<'a>,
    regular: Font,
    bold: Font,
}

impl Writer<'_> {
    fn draw(&mut self, item: &Item) {
        match item {
            Item::Rect(area, rgb) => self.rect(*area, *rgb),
            Item::Stitches(row) => self.rect(row.area, row.rgb),
            Item::Line(line) => self.line(line),
            Item::Text(text) => self.text(text),
            Item::Open(_) | Item::Close => {}
        }
    }

    fn rect(&mut self, Area { x, y, width, height }: Area, rgb: Rgb) {
        let mut path = PathBuilder::new();
        if let Some(rect) = Rect::from_xywh(x, y, width, height) {
            path.push_rect(rect);
        }
        let Some(path) = path.finish() else { return };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(filled(rgb)));
        self.surface.draw_path(&path);
    }

    fn line(&mut self, line: &Line) {
        let mut path = PathBuilder::new();
        path.move_to(line.from.0, line.from.1);
        path.line_to(line.to.0, line.to.1);
        let Some(path) = path.finish() else { return };
        let dash = line.dash.map(|(dash, gap)| StrokeDash { array: vec![dash, gap], offset: 0.0 });
        let line_cap = if dash.is_some() { LineCap::Butt } else { LineCap::Round };
        self.surface.set_fill(None);
        self.surface.set_stroke(Some(Stroke {
            paint: colour(line.rgb).into(),
            width: line.width,
            line_cap,
            dash,
            ..Stroke::default()
        }));
        self.surface.draw_path(&path);
    }

    fn text(&mut self, text: &Text) {
        let font = match text.style.weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(filled(text.style.rgb)));
        let at = Point::from_xy(text.x, text.baseline);
        let direction = TextDirection::LeftToRight;
        self.surface.draw_text(at, font, text.style.size, &text.text, false, direction);
    }
}

fn colour([red, green, blue]: Rgb) -> rgb::Color {
    rgb::Color::new(red, green, blue)
}

fn filled(rgb: Rgb) -> Fill {
    Fill { paint: colour(rgb).into(), ..Fill::default() }
}
