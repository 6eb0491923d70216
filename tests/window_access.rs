//! The window without a pointer and without eyes: the order of the tab key, the floor as one group, and a name for
//! everything that can be used, in AccessKit's tree.
#![cfg(feature = "window")]

mod window;

use std::path::Path;

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable, by};
use lanelight::window::desk::Desk;
use lanelight::window::egui::accesskit::Role as Widget;
use lanelight::window::egui::{Key, Modifiers, vec2};
use lanelight::window::settings::Page;

fn open(folder: &Path) -> Harness<'static, Desk> {
    let mut window = window::open(window::desk(folder), vec2(1280.0, 800.0));
    window.run_steps(3);
    window
}

/// The name of what has the focus.
fn focused(window: &Harness<'_, Desk>) -> Option<String> {
    let found = window.query_all(by().predicate(|node| node.is_focused()).recursive(true));
    found
        .filter_map(|n| n.accesskit_node().label().or(n.accesskit_node().value()))
        .next()
}

fn is_player(name: &str) -> bool {
    name.starts_with("attacker ") || name.starts_with("defender ")
}

#[test]
fn the_tab_key_goes_through_the_page_first_and_the_floor_is_one_group() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    window.state_mut().page = Some(Page::Drills);
    window.run_steps(4);
    let mut names = Vec::new();
    for _ in 0..80 {
        window.key_press(Key::Tab);
        window.run_steps(2);
        names.push(focused(&window).unwrap_or_default());
    }
    let first = |wanted: &dyn Fn(&str) -> bool| names.iter().position(|n| wanted(n));
    let page = first(&|n| n == "help line").expect("a duty on the page");
    let floor = first(&is_player).expect("the floor");
    let bench = first(&|n| n == "Run").expect("the bench");
    assert!(
        page < floor && floor < bench,
        "{page} {floor} {bench}: {names:?}"
    );
    assert!(!is_player(&names[floor + 1]), "{names:?}");
    // Arrows go from player to player, shift and an arrow moves one.
    while !focused(&window).is_some_and(|n| is_player(&n)) {
        window.key_press(Key::Tab);
        window.run_steps(2);
    }
    let mut seen = std::collections::BTreeSet::new();
    for key in [
        Key::ArrowUp,
        Key::ArrowLeft,
        Key::ArrowDown,
        Key::ArrowRight,
        Key::ArrowUp,
    ] {
        seen.insert(focused(&window).expect("a player"));
        window.key_press(key);
        window.run_steps(3);
    }
    assert!(
        seen.len() >= 3 && seen.iter().all(|n| is_player(n)),
        "{seen:?}"
    );
    assert!(window.state().moved.iter().all(Option::is_none));
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
    window.run_steps(3);
    assert_eq!(window.state().moved.iter().flatten().count(), 1);
}

#[test]
fn everything_that_can_be_used_has_a_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let roles = [
        Widget::Button,
        Widget::CheckBox,
        Widget::RadioButton,
        Widget::ComboBox,
        Widget::Slider,
        Widget::SpinButton,
        Widget::TextInput,
        Widget::Link,
    ];
    let mut nameless = Vec::new();
    for page in [None].into_iter().chain(Page::ALL.map(Some)) {
        window.state_mut().page = page;
        window.run_steps(4);
        let usable = by()
            .predicate(move |n| roles.contains(&n.role()))
            .recursive(true);
        let mut all = 0;
        for node in window.query_all(usable) {
            all += 1;
            let node = node.accesskit_node();
            let named = |text: Option<String>| text.is_some_and(|t| !t.trim().is_empty());
            let by_others = node
                .labelled_by()
                .any(|n| named(n.label()) || named(n.value()));
            // What a chooser shows is its value; what it chooses has to be told, too.
            if !(named(node.label()) || by_others) {
                nameless.push(format!("{page:?}: {:?} {:?}", node.role(), node.value()));
            }
        }
        assert!(all > 20, "{page:?}: {all}");
    }
    assert!(nameless.is_empty(), "{nameless:#?}");
}
