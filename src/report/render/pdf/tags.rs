//! What the marks of a page mean, for screen readers: headings, paragraphs, tables, pictures.

use std::num::NonZeroU16;

use krilla::tagging::{
    Identifier, ListNumbering, Node as TagNode, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

/// A node of the tree, by its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Node(usize);

/// What a node is.
#[derive(Clone, Debug)]
pub(super) enum Role {
    Heading(u8, String),
    Paragraph,
    List {
        numbered: bool,
    },
    Item,
    Table,
    Row,
    ColumnHead,
    RowHead,
    Cell,
    /// With its description.
    Picture(String),
}

/// The tree, in reading order.
#[derive(Debug, Default)]
pub(super) struct Tags(Vec<(Option<Node>, Role)>);

impl Tags {
    pub(super) fn add(&mut self, parent: Option<Node>, role: Role) -> Node {
        self.0.push((parent, role));
        Node(self.0.len() - 1)
    }

    /// The tree with the marks that were drawn for each node.
    pub(super) fn tree(&self, mut drawn: Vec<(Node, Identifier)>) -> TagTree {
        drawn.sort_by_key(|(node, _)| node.0);
        let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
        // Children have higher numbers than their parents: from the last, each goes into its parent.
        let mut groups: Vec<Option<TagGroup>> = self
            .0
            .iter()
            .map(|(_, role)| Some(TagGroup::new(kind(role))))
            .collect();
        for (node, identifier) in drawn {
            if let Some(Some(group)) = groups.get_mut(node.0) {
                group.push(identifier);
            }
        }
        let mut children: Vec<Vec<TagNode>> = vec![Vec::new(); groups.len()];
        let mut top = Vec::new();
        for number in (0..groups.len()).rev() {
            let Some(mut group) = groups.get_mut(number).and_then(Option::take) else {
                continue;
            };
            let inner = children.get_mut(number).map(std::mem::take);
            group
                .children
                .extend(inner.unwrap_or_default().into_iter().rev());
            let parent = self.0.get(number).and_then(|(parent, _)| *parent);
            match parent.and_then(|parent| children.get_mut(parent.0)) {
                Some(siblings) => siblings.push(TagNode::Group(group)),
                None => top.push(group),
            }
        }
        for group in top.into_iter().rev() {
            tree.push(group);
        }
        tree
    }
}

fn kind(role: &Role) -> TagKind {
    match role {
        Role::Heading(level, words) => {
            let level = NonZeroU16::new(u16::from(*level)).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(words.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::List { numbered: true } => Tag::L(ListNumbering::Decimal).into(),
        Role::List { numbered: false } => Tag::L(ListNumbering::None).into(),
        Role::Item => Tag::LI.into(),
        Role::Table => Tag::Table.into(),
        Role::Row => Tag::TR.into(),
        Role::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
        Role::RowHead => Tag::TH(TableHeaderScope::Row).into(),
        Role::Cell => Tag::TD.into(),
        Role::Picture(description) => Tag::Figure(Some(description.clone())).into(),
    }
}
