//! A page as a tree, parsed by the rules of the HTML standard, with every parse error kept.

use std::borrow::Cow;
use std::cell::RefCell;

use html5ever::interface::{ElementFlags, NodeOrText, QuirksMode, TreeSink};
use html5ever::tendril::{StrTendril, TendrilSink};
use html5ever::tokenizer::TokenizerOpts;
use html5ever::{Attribute, ParseOpts, QualName, parse_document};

/// One node; its place in [`Page::nodes`] is its handle.
#[derive(Clone, Debug, Default)]
pub struct Node {
    pub name: Option<QualName>,
    pub attributes: Vec<(String, String)>,
    /// For a node of text.
    pub text: Option<String>,
    pub parent: Option<usize>,
    pub children: Vec<usize>,
}

impl Node {
    pub fn element(&self) -> &str {
        self.name.as_ref().map_or("", |name| &*name.local)
    }

    pub fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }

    pub fn has_class(&self, class: &str) -> bool {
        self.attribute("class").is_some_and(|classes| classes.split_whitespace().any(|one| one == class))
    }
}

#[derive(Debug, Default)]
pub struct Page {
    pub nodes: Vec<Node>,
    pub errors: Vec<String>,
}

impl Page {
    pub fn parse(html: &str) -> Self {
        let tokenizer = TokenizerOpts { exact_errors: true, ..TokenizerOpts::default() };
        let builder = html5ever::tree_builder::TreeBuilderOpts { exact_errors: true, ..Default::default() };
        let sink = Sink { page: RefCell::new(Page { nodes: vec![Node::default()], errors: Vec::new() }) };
        parse_document(sink, ParseOpts { tokenizer, tree_builder: builder }).one(html)
    }

    /// All handles in document order.
    pub fn walk(&self) -> Vec<usize> {
        let mut order = Vec::new();
        let mut open = vec![0];
        while let Some(next) = open.pop() {
            order.push(next);
            open.extend(self.nodes[next].children.iter().rev());
        }
        order
    }

    pub fn elements(&self) -> impl Iterator<Item = (usize, &Node)> {
        self.walk().into_iter().map(|handle| (handle, &self.nodes[handle])).filter(|(_, node)| node.name.is_some())
    }

    pub fn by_id(&self, id: &str) -> Option<usize> {
        self.elements().find(|(_, node)| node.attribute("id") == Some(id)).map(|(handle, _)| handle)
    }

    pub fn below(&self, handle: usize) -> Vec<usize> {
        let mut order = Vec::new();
        let mut open: Vec<usize> = self.nodes[handle].children.iter().rev().copied().collect();
        while let Some(next) = open.pop() {
            order.push(next);
            open.extend(self.nodes[next].children.iter().rev());
        }
        order
    }

    pub fn text(&self, handle: usize) -> String {
        self.below(handle).into_iter().filter_map(|node| self.nodes[node].text.as_deref()).collect()
    }

    fn detach(&mut self, handle: usize) {
        if let Some(parent) = self.nodes[handle].parent.take() {
            self.nodes[parent].children.retain(|child| *child != handle);
        }
    }

    fn insert(&mut self, parent: usize, index: usize, child: NodeOrText<usize>) {
        let handle = match child {
            NodeOrText::AppendNode(handle) => {
                self.detach(handle);
                handle
            }
            NodeOrText::AppendText(text) => {
                let before = index.checked_sub(1).map(|index| self.nodes[parent].children[index]);
                if let Some(own) = before.and_then(|before| self.nodes[before].text.as_mut()) {
                    own.push_str(&text);
                    return;
                }
                self.nodes.push(Node { text: Some(text.to_string()), ..Node::default() });
                self.nodes.len() - 1
            }
        };
        self.nodes[handle].parent = Some(parent);
        let index = index.min(self.nodes[parent].children.len());
        self.nodes[parent].children.insert(index, handle);
    }

    fn append(&mut self, parent: usize, child: NodeOrText<usize>) {
        let last = self.nodes[parent].children.len();
        self.insert(parent, last, child);
    }
}

struct Sink {
    page: RefCell<Page>,
}

impl Sink {
    fn node(&self, node: Node) -> usize {
        let mut page = self.page.borrow_mut();
        page.nodes.push(node);
        page.nodes.len() - 1
    }
}

/// A name that lives as long as the parser needs it.
#[derive(Debug)]
struct Name(QualName);

impl html5ever::interface::ElemName for Name {
    fn ns(&self) -> &html5ever::Namespace {
        &self.0.ns
    }
    fn local_name(&self) -> &html5ever::LocalName {
        &self.0.local
    }
}

impl TreeSink for Sink {
    type Handle = usize;
    type Output = Page;
    type ElemName<'a> = Name;

    fn finish(self) -> Page {
        self.page.into_inner()
    }
    fn parse_error(&self, message: Cow<'static, str>) {
        self.page.borrow_mut().errors.push(message.into_owned());
    }
    fn get_document(&self) -> usize {
        0
    }
    fn elem_name<'a>(&'a self, target: &'a usize) -> Name {
        Name(self.page.borrow().nodes[*target].name.clone().expect("only elements are asked for their name"))
    }
    fn create_element(&self, name: QualName, attributes: Vec<Attribute>, _flags: ElementFlags) -> usize {
        let attributes = attributes.into_iter().map(|one| (one.name.local.to_string(), one.value.to_string())).collect();
        self.node(Node { name: Some(name), attributes, ..Node::default() })
    }
    fn create_comment(&self, _text: StrTendril) -> usize {
        self.node(Node::default())
    }
    fn create_pi(&self, _target: StrTendril, _data: StrTendril) -> usize {
        self.node(Node::default())
    }
    fn append(&self, parent: &usize, child: NodeOrText<usize>) {
        self.page.borrow_mut().append(*parent, child);
    }
    fn append_based_on_parent_node(&self, element: &usize, before: &usize, child: NodeOrText<usize>) {
        let has_parent = self.page.borrow().nodes[*element].parent.is_some();
        if has_parent { self.append_before_sibling(element, child) } else { self.append(before, child) }
    }
    fn append_doctype_to_document(&self, _name: StrTendril, _public: StrTendril, _system: StrTendril) {}
    fn get_template_contents(&self, target: &usize) -> usize {
        *target
    }
    fn same_node(&self, left: &usize, right: &usize) -> bool {
        left == right
    }
    fn set_quirks_mode(&self, mode: QuirksMode) {
        if mode != QuirksMode::NoQuirks {
            self.page.borrow_mut().errors.push(format!("{mode:?}"));
        }
    }
    fn append_before_sibling(&self, sibling: &usize, child: NodeOrText<usize>) {
        let mut page = self.page.borrow_mut();
        let parent = page.nodes[*sibling].parent.expect("a sibling has a parent");
        let index = page.nodes[parent].children.iter().position(|one| one == sibling).unwrap_or_default();
        page.insert(parent, index, child);
    }
    fn add_attrs_if_missing(&self, _target: &usize, _attributes: Vec<Attribute>) {}
    fn remove_from_parent(&self, target: &usize) {
        self.page.borrow_mut().detach(*target);
    }
    fn reparent_children(&self, node: &usize, parent: &usize) {
        let mut page = self.page.borrow_mut();
        for child in page.nodes[*node].children.clone() {
            page.append(*parent, NodeOrText::AppendNode(child));
        }
    }
}
