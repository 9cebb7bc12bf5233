//! Verbs of the bench in their base form, and the small words that tell an instruction from a description. English only.

use std::collections::HashSet;
use std::sync::OnceLock;

/// A list of words, parted by spaces.
#[derive(Debug)]
pub struct Lexicon {
    words: &'static str,
    /// The same words, once the first was asked for.
    known: OnceLock<HashSet<&'static str>>,
}

impl Lexicon {
    pub const fn new(words: &'static str) -> Self {
        Self { words, known: OnceLock::new() }
    }

    pub fn contains(&self, word: &str) -> bool {
        self.known.get_or_init(|| self.words.split_whitespace().collect()).contains(word)
    }
}

/// Verbs that begin a sentence as an instruction and as nothing else.
pub static SURE: Lexicon = Lexicon::new(
    "add adjust apply arrange ask assemble attach avoid become begin blow bring cancel carry choose collect compare confirm connect continue \
     delete detach determine disassemble discard disconnect dismantle do draw ensure enter examine extract fasten fetch fill find fix get give go \
     hang have hold inform insert inspect install join keep lay lean leave let lift listen look loosen lower make measure mind moisten move \
     obtain open pay peel pick place plug pour press pull push put quote raise reach read reassemble reconnect record refer refit reinstall \
     remember remove repeat replace reseat restart retighten rinse rub say see select send separate settle shake show slacken speak spread \
     squeeze stand stay straighten support swap switch take tell throw tie tighten turn unclip unfold unhook unlatch unlock unpack unplug unscrew \
     verify wait walk wash weigh wipe withdraw work wrap write",
);

/// Verbs that are as often a noun or an adjective: what follows decides.
pub static UNSURE: Lexicon = Lexicon::new(
    "air align bag bend block book break brush call catch change charge check clamp clean clear click clip close cool copy count cover crease cut \
     damp discharge drain drive drop dry dust earth empty exchange face fan feed feel file fit flip fold force free grease grip ground guide hand \
     heat help hook jam label latch level light line load lock loop mark match mount name need note number oil order phone photograph power print \
     prop release renew repair report reset rest ring rock roll rotate route run scrape screw seal seat secure set shade shift shut slide slip \
     sort spring start step stop store strip swing tag tap tape test thread tilt time touch trace transport try type use vacuum ventilate warm \
     watch wear wet wind",
);

/// Of [`SURE`], those that stand as nouns behind `and` or a comma.
pub static NOUNS_TOO: Lexicon =
    Lexicon::new("draw fix hold lift look measure move plug press pull push record repeat show stand switch turn wait work");

/// What an object begins with, or a particle of the verb.
pub static OBJECT_BEGINS: Lexicon = Lexicon::new(
    "the a an this these those each every all both any its your their his her our my it them him me us yourself nothing nobody somebody someone \
     everybody everyone anybody anyone anything something everything no only once twice what which how where who whether out off up down back away again \
     over until into onto half another some several enough more one two three four five six seven eight nine ten twelve twenty",
);

/// Behind a word that may be a noun, these make it one.
pub static PREPOSITIONS: Lexicon = Lexicon::new("of in on at between under along above below behind that");

/// What can come before the main clause of an instruction, up to a comma.
pub static INTRODUCES: Lexicon = Lexicon::new(
    "if unless when whenever where wherever once after before until while as since because should in on at with without for to from by during \
     under within instead depending provided",
);

/// What ends the search for the verb of a clause.
pub static SUBORDINATES: Lexicon = Lexicon::new("if unless when where once after before until while because so that which who whether as");

/// Adverbs and conjunctions that stand before the verb of an instruction; words in `-ly` are known by their ending.
pub static LEADS: Lexicon = Lexicon::new("then now next first finally also again please just always and but or so only afterwards");

/// Words in `-ly` that are no adverbs.
pub static NOT_LEADS: Lexicon = Lexicon::new("apply supply reply rely multiply assembly");

/// Finite verbs that are no third person of a verb above.
static FINITE: Lexicon = Lexicon::new(
    "is are was were be has had does did can could may might must shall should will would means mean comes come costs belongs belong lies lie \
     sits sit falls gets grows hides happens seems looks stays takes shows weighs",
);

/// Whether the word is a finite verb of a description: `is`, `means`, `breaks`.
pub fn is_finite(word: &str) -> bool {
    let known = |stem: &str| SURE.contains(stem) || UNSURE.contains(stem);
    let third = |ending: &str| word.strip_suffix(ending).is_some_and(known);
    FINITE.contains(word) || third("s") || third("es")
}
