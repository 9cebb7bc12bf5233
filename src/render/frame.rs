//! What all pages share: the shell around them, the words, the assets with their digests.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use jiff::civil::Date;
use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};
use serde_json::{Value as Json, json};
use tera::{Context, Tera};

use crate::analyse::gate::Cleared;
use crate::emit::review::Review;
use crate::model::library::Library;
use crate::model::procedure::Procedure;
use crate::render::drawings::Drawings;
use crate::render::{changes, chart_svg, escape, search};
use crate::text::id::Id;
use crate::theme::words::Words;
use crate::theme::{self, Kind};

/// Pages load style and script from the site alone. Opened from a folder a page has an origin that `'self'` may not match, so the scheme `file:`
/// stands beside it; served over HTTP nothing from a folder can be loaded anyway.
const POLICY: &str = "default-src 'none'; style-src 'self' file:; script-src 'self' file:; img-src 'self' file:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

/// What is found changes with every procedure. If its name did too, every page would; the site's worker tells one edition's from the next by its digest.
const INDEX: &str = "assets/search-index.js";

pub struct Frame<'a> {
    pub library: &'a Library,
    pub words: &'static Words,
    pub today: Date,
    /// Charts that were drawn before.
    pub known: &'a Drawings,
    /// Which notice every page bears, if any.
    notice: Option<&'static str>,
    /// There are only review pages: no start page, stop card or leaflet to lead to.
    alone: bool,
    theme: &'static Theme,
    /// What there is to be found.
    index: OnceLock<Asset>,
    /// Charts of procedures that others carry out, to be opened in theirs.
    drawings: BTreeMap<&'a Id, OnceLock<Asset>>,
    /// Those that carry a procedure out, in their order. A withdrawn one shows no steps that could be gone back to.
    callers: BTreeMap<&'a Id, Vec<&'a Procedure>>,
}

/// What the theme gives, the same for every library.
struct Theme {
    words: Words,
    /// All of the words, as a template takes them.
    all_words: tera::Value,
    /// The words that the scripts of a kind of page say, as JSON that may stand in a script element.
    script_words: BTreeMap<Kind, tera::Value>,
    tera: Tera,
    style: Asset,
    scripts: BTreeMap<Kind, Asset>,
    hand_over: Asset,
    chart: Asset,
    search: Asset,
}

impl Theme {
    fn get() -> &'static Self {
        static THEME: OnceLock<Theme> = OnceLock::new();
        let script = |kind: Kind| Asset::new(kind.as_str(), "js", theme::script(kind).expect("embedded scripts join; a test holds it"));
        THEME.get_or_init(|| {
            let words = theme::words().expect("embedded words parse; a test holds it");
            Self {
                all_words: tera::Value::from_serializable(words.groups()),
                script_words: Kind::ALL.into_iter().map(|kind| (kind, escape::safe(&script_words(&words, kind)))).collect(),
                words,
                tera: theme::templates().expect("embedded templates parse; a test holds it"),
                style: Asset::new("style", "css", theme::strip::sheet(&theme::style())),
                scripts: Kind::ALL.into_iter().map(|kind| (kind, script(kind))).collect(),
                hand_over: Asset::new("hand-over", "js", theme::hand_over_script().expect("embedded scripts join; a test holds it")),
                chart: Asset::new("chart", "js", theme::chart_script().expect("embedded scripts join; a test holds it")),
                search: Asset::new("search", "js", theme::search_script().expect("embedded scripts join; a test holds it")),
            }
        })
    }
}

fn script_words(words: &Words, kind: Kind) -> String {
    let groups: &[&str] = match kind {
        Kind::Procedure => &["site", "follower", "flowchart"],
        Kind::Sums => &["site", "sums"],
        Kind::Start | Kind::Plain => &["site"],
    };
    let chosen: serde_json::Map<_, _> =
        groups.iter().filter_map(|name| Some(((*name).to_owned(), json!(words.groups().get(*name)?)))).collect();
    escape::json_in_script(&Json::Object(chosen))
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
    pub fn new(cleared: &'a Cleared<Library>, today: Date, known: &'a Drawings) -> Self {
        Self::with(cleared.library(), today, known, cleared.unreleased().then_some("unreleased-site"), false)
    }

    /// For review pages that stand alone.
    pub fn review(review: &Review<'a>, known: &'a Drawings) -> Self {
        Self::with(review.library(), review.today, known, Some("review-alone"), true)
    }

    fn with(library: &'a Library, today: Date, known: &'a Drawings, notice: Option<&'static str>, alone: bool) -> Self {
        let theme = Theme::get();
        let drawings = if alone { BTreeMap::new() } else { called(library).map(|procedure| (&procedure.id, OnceLock::new())).collect() };
        let callers = callers(library);
        Self { library, words: &theme.words, today, known, notice, alone, theme, index: OnceLock::new(), drawings, callers }
    }

    pub fn assets(&self) -> BTreeMap<String, Vec<u8>> {
        let drawn: Vec<&Asset> = self.drawings.par_iter().filter_map(|(id, _)| self.drawn(id)).collect();
        self.fixed().chain([self.index()]).chain(drawn).map(|asset| (asset.path.clone(), asset.text.clone().into_bytes())).collect()
    }

    /// One of [`Frame::assets`].
    pub fn asset(&self, path: &str) -> Option<Vec<u8>> {
        let drawn = || {
            self.drawings
                .keys()
                .filter(|id| path.starts_with(&drawing_name(id)))
                .find_map(|id| self.drawn(id).filter(|asset| asset.path == path))
        };
        let index = || (path == INDEX).then(|| self.index());
        let asset = self.fixed().find(|asset| asset.path == path).or_else(index).or_else(drawn)?;
        Some(asset.text.clone().into_bytes())
    }

    /// Those that are the same whatever the library.
    fn fixed(&self) -> impl Iterator<Item = &Asset> {
        let scripts = Kind::ALL.into_iter().flat_map(|kind| self.scripts_of(kind));
        scripts.chain([&self.theme.style, &self.theme.hand_over, &self.theme.chart, &self.theme.search])
    }

    fn index(&self) -> &Asset {
        self.index.get_or_init(|| Asset { path: INDEX.to_owned(), text: search::script(self.library, self.words) })
    }

    /// A chart that other pages open: a script that hands it to the page, as pages opened from a folder can fetch nothing else.
    fn drawn(&self, id: &Id) -> Option<&Asset> {
        let kept = self.drawings.get(id)?;
        let procedure = self.library.procedure(id)?;
        Some(kept.get_or_init(|| {
            let detail = json!({ "procedure": id.as_str(), "title": procedure.title(), "svg": chart_svg::elsewhere(self.library, procedure, self.known) });
            let text = format!("document.dispatchEvent(new CustomEvent(\"stepward:drawing\", {{ detail: {detail} }}));\n");
            Asset::new(&format!("flow-{id}"), "js", text)
        }))
    }

    /// The scripts of a kind of page: the one of every page first.
    fn scripts_of(&self, kind: Kind) -> impl Iterator<Item = &Asset> {
        let every = self.theme.scripts.get(&Kind::Plain);
        let own = self.theme.scripts.get(&kind).filter(|own| every.is_none_or(|every| every.text != own.text));
        every.into_iter().chain(own)
    }

    /// Where the chart of a procedure that others carry out lies, from the top of the site.
    pub fn drawing(&self, procedure: &Id) -> Option<&str> {
        self.drawn(procedure).map(|asset| asset.path.as_str())
    }

    /// The procedures that carry one out, each once.
    pub fn callers(&self, procedure: &Id) -> &[&'a Procedure] {
        self.callers.get(procedure).map_or(&[], Vec::as_slice)
    }

    /// Whether what is published may be followed at a machine: not where procedures are not released, nor on review pages alone.
    pub fn is_for_use(&self) -> bool {
        self.notice.is_none()
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
        context.insert_value("words", self.theme.all_words.clone());
        context.insert("root", root);
        context.insert("title", &sheet.title);
        context.insert("library", self.library.settings.title());
        context.insert("language", self.library.settings.language());
        context.insert("policy", POLICY);
        context.insert("style", &self.theme.style.path);
        context.insert("scripts", &self.scripts_of(sheet.kind).map(|asset| asset.path.as_str()).collect::<Vec<_>>());
        context.insert("hand_over_script", &self.theme.hand_over.path);
        context.insert("chart_script", &self.theme.chart.path);
        context.insert("search_script", &self.theme.search.path);
        context.insert("search_index", INDEX);
        context.insert_value("interface_words", self.theme.script_words[&sheet.kind].clone());
        context.insert("page_kind", sheet.kind.as_str());
        context.insert("published", &self.today.to_string());
        context.insert("offline_days", &self.library.settings.offline_days.as_ref().map_or(30, |days| days.value));
        context.insert("stop_card", &(!self.alone && self.library.stop_card.is_some()));
        context.insert("leaflets", &if self.alone { Vec::new() } else { self.leaflet_links() });
        // Pages that stand alone run no script, and there are no pages of the rules beside them.
        context.insert("handbook", &!self.alone);
        context.insert("stages_page", &(!self.alone && !self.library.stages.is_empty()));
        context.insert("rulers_page", &(!self.alone && self.library.equipment.models.iter().any(|model| !model.repeats.is_empty())));
        context.insert("feed", &self.is_for_use().then_some(changes::FEED));
        context.insert("review", if self.alone { "index.html" } else { "review/index.html" });
        context.insert("foot", &sheet.foot);
        context.insert_value("banners", banners.iter().map(|banner| escape::safe(banner)).collect::<Vec<_>>().into());
        let html = self.theme.tera.render(sheet.template, &context).expect("embedded templates fit their pages; a test sets every kind");
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

/// The procedures that another carries out.
fn called(library: &Library) -> impl Iterator<Item = &Procedure> {
    let called: BTreeSet<&Id> = library.procedures.iter().flat_map(Procedure::callees).collect();
    library.procedures.iter().filter(move |procedure| called.contains(&procedure.id) && !procedure.is_withdrawn())
}

fn callers(library: &Library) -> BTreeMap<&Id, Vec<&Procedure>> {
    let mut callers: BTreeMap<&Id, Vec<&Procedure>> = BTreeMap::new();
    for procedure in library.procedures.iter().filter(|procedure| !procedure.is_withdrawn()) {
        let callees: BTreeSet<&Id> = procedure.callees().collect();
        callees.into_iter().for_each(|callee| callers.entry(callee).or_default().push(procedure));
    }
    callers
}

/// How the path of a procedure's chart begins.
fn drawing_name(procedure: &Id) -> String {
    format!("assets/flow-{procedure}-")
}

/// The way from a page to the top of the site: empty, or `../`.
pub fn root(path: &str) -> &'static str {
    if path.contains('/') { "../" } else { "" }
}
