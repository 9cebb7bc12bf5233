//! What all pages share: the shell around them, the words, the assets with their digests.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde_json::{Value as Json, json};
use tera::{Context, Tera};

use crate::analyse::gate::Cleared;
use crate::emit::review::Review;
use crate::model::library::Library;
use crate::render::escape;
use crate::theme::words::Words;
use crate::theme::{self, Kind};

/// Pages load style and script from the site alone. Opened from a folder a page has an origin that `'self'` may not match, so the scheme `file:`
/// stands beside it; served over HTTP nothing from a folder can be loaded anyway.
const POLICY: &str = "default-src 'none'; style-src 'self' file:; script-src 'self' file:; img-src 'self' file:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

pub struct Frame<'a> {
    pub library: &'a Library,
    pub words: Words,
    pub today: Date,
    /// Which notice every page bears, if any.
    notice: Option<&'static str>,
    /// There are only review pages: no start page, stop card or leaflet to lead to.
    alone: bool,
    tera: Tera,
    style: Asset,
    scripts: BTreeMap<Kind, Asset>,
    hand_over: Asset,
}

struct Asset {
    path: String,
    text: String,
}

impl Asset {
    /// The name carries a digest of the bytes: changed bytes never come from an old cache.
    fn new(name: &str, ending: &str, text: String) -> Self {
        let digest = blake3::hash(text.as_bytes()).to_hex();
        Self { path: format!("assets/{name}-{}.{ending}", digest.chars().take(12).collect::<String>()), text }
    }
}

/// One page before it is set.
pub struct Sheet {
    /// Its path in the site.
    pub path: String,
    pub title: String,
    pub kind: Kind,
    pub template: &'static str,
    /// Markup of notices above everything else, each already safe.
    pub banners: Vec<String>,
    /// What the foot of each printed sheet says.
    pub foot: String,
    /// What the template shows, besides what all pages have.
    pub context: Context,
}

impl<'a> Frame<'a> {
    pub fn new(cleared: &'a Cleared<Library>, today: Date) -> Self {
        Self::with(cleared.library(), today, cleared.unreleased().then_some("unreleased-site"), false)
    }

    /// For review pages that stand alone.
    pub fn review(review: &Review<'a>) -> Self {
        Self::with(review.library(), review.today, Some("review-alone"), true)
    }

    fn with(library: &'a Library, today: Date, notice: Option<&'static str>, alone: bool) -> Self {
        let script = |kind: Kind| Asset::new(kind.as_str(), "js", theme::script(kind).expect("embedded scripts join; a test holds it"));
        Self {
            library,
            words: theme::words().expect("embedded words parse; a test holds it"),
            today,
            notice,
            alone,
            tera: theme::templates().expect("embedded templates parse; a test holds it"),
            style: Asset::new("style", "css", theme::style()),
            scripts: Kind::ALL.into_iter().map(|kind| (kind, script(kind))).collect(),
            hand_over: Asset::new("hand-over", "js", theme::hand_over_script().expect("embedded scripts join; a test holds it")),
        }
    }

    pub fn assets(&self) -> BTreeMap<String, Vec<u8>> {
        let scripts = Kind::ALL.into_iter().flat_map(|kind| self.scripts_of(kind));
        scripts.chain([&self.style, &self.hand_over]).map(|asset| (asset.path.clone(), asset.text.clone().into_bytes())).collect()
    }

    /// The scripts of a kind of page: the one of every page first.
    fn scripts_of(&self, kind: Kind) -> impl Iterator<Item = &Asset> {
        let every = self.scripts.get(&Kind::Plain);
        let own = self.scripts.get(&kind).filter(|own| every.is_none_or(|every| every.text != own.text));
        every.into_iter().chain(own)
    }

    /// The words that a page's scripts say, as JSON that may stand in a script element.
    fn interface_words(&self, kind: Kind) -> String {
        let groups: &[&str] = if kind == Kind::Procedure { &["site", "follower"] } else { &["site"] };
        let chosen: serde_json::Map<_, _> =
            groups.iter().filter_map(|name| Some(((*name).to_owned(), json!(self.words.groups().get(*name)?)))).collect();
        escape::json_in_script(&Json::Object(chosen))
    }

    /// A text of the interface.
    pub fn say<'k>(&'k self, group: &str, key: &'k str) -> &'k str {
        self.words.say(group, key)
    }

    /// A text of the interface as markup.
    pub fn word(&self, group: &str, key: &str) -> String {
        escape::text(self.words.say(group, key))
    }

    /// Sets a page into the shell.
    pub fn set(&self, sheet: Sheet) -> (String, String) {
        let root = root(&sheet.path);
        let mut context = sheet.context;
        let mut banners = sheet.banners;
        if let Some(notice) = self.notice {
            banners.insert(0, escape::text(self.say("banner", notice)));
        }
        context.insert("words", self.words.groups());
        context.insert("root", root);
        context.insert("title", &sheet.title);
        context.insert("library", self.library.settings.title());
        context.insert("language", self.library.settings.language());
        context.insert("policy", POLICY);
        context.insert("style", &self.style.path);
        context.insert("scripts", &self.scripts_of(sheet.kind).map(|asset| asset.path.as_str()).collect::<Vec<_>>());
        context.insert("hand_over_script", &self.hand_over.path);
        context.insert_value("interface_words", escape::safe(&self.interface_words(sheet.kind)));
        context.insert("page_kind", sheet.kind.as_str());
        context.insert("published", &self.today.to_string());
        context.insert("offline_days", &self.library.settings.offline_days.as_ref().map_or(30, |days| days.value));
        context.insert("stop_card", &(!self.alone && self.library.stop_card.is_some()));
        context.insert("leaflets", &if self.alone { Vec::new() } else { self.leaflet_links() });
        // Pages that stand alone run no script, and there are no pages of the rules beside them.
        context.insert("handbook", &!self.alone);
        context.insert("review", if self.alone { "index.html" } else { "review/index.html" });
        context.insert("foot", &sheet.foot);
        context.insert_value("banners", banners.iter().map(|banner| escape::safe(banner)).collect::<Vec<_>>().into());
        let html = self.tera.render(sheet.template, &context).expect("embedded templates fit their pages; a test sets every kind");
        (sheet.path, html)
    }

    fn leaflet_links(&self) -> Vec<Json> {
        let mut leaflets: Vec<_> = self.library.leaflets.iter().collect();
        leaflets.sort_by_key(|leaflet| (leaflet.order.as_ref().map_or(i64::MAX, |order| order.value), leaflet.id.clone()));
        leaflets
            .into_iter()
            .map(|leaflet| json!({ "href": format!("leaflets/{}.html", leaflet.id), "title": crate::render::leaflet::title(leaflet) }))
            .collect()
    }
}

/// The way from a page to the top of the site: empty, or `../`.
pub fn root(path: &str) -> &'static str {
    if path.contains('/') { "../" } else { "" }
}
