//! Who is whose buddy.

use super::keys::team as keys;
use super::reader::{Given, Reader};
use crate::quantity::nearest;

const ACCEPTED: &str = "two divers who name each other, or three in a group";

/// A diver and the buddy named for that diver.
pub(super) struct Link {
    pub(super) table: String,
    pub(super) name: String,
    pub(super) buddy: Given<String>,
}

/// Buddies exist, and name each other or make a group of three. `names` are all that could be read:
/// where one could not, nobody is told that it is missing, for that has been said.
pub(super) fn check(reader: &mut Reader, links: &[Link], names: &[String], are_all: bool) {
    for link in links {
        let buddy = &link.buddy.value;
        if !names.contains(buddy) {
            if !are_all {
                continue;
            }
            let message = format!("nobody is called \"{buddy}\"");
            let meant = nearest(buddy, names.iter().map(String::as_str)).map(str::to_owned);
            let known = names.join(", ");
            let (place, key) = (link.buddy.at.clone(), Some(keys::BUDDY.name));
            reader.refuse_at(place, &link.table, key, message, known, meant);
        } else if *buddy == link.name {
            let message = format!("{buddy} cannot be their own buddy");
            reader.refuse(&link.table, &link.buddy, message, ACCEPTED);
        } else {
            check_group(reader, link, &group_of(links, &link.name), links, names);
        }
    }
}

/// Everybody in a group names one of it, and it is no more than three.
fn check_group(reader: &mut Reader, link: &Link, group: &[&str], links: &[Link], names: &[String]) {
    let exists = |member: &str| names.iter().any(|name| name == member);
    if !group.iter().all(|member| exists(member)) {
        // Somebody in the group named nobody there is, which has been said.
        return;
    }
    let names_one = |member: &str| links.iter().any(|link| link.name == member);
    let message = if group.len() > 3 {
        format!(
            "{} divers are linked as buddies: {}",
            group.len(),
            group.join(", ")
        )
    } else if !group.iter().all(|member| names_one(member)) {
        format!(
            "{} names {} as buddy, but not the other way round",
            link.name, link.buddy.value
        )
    } else {
        return;
    };
    reader.refuse(&link.table, &link.buddy, message, ACCEPTED);
}

/// Everybody who is linked to a diver by the buddies named, the diver included.
fn group_of<'l>(links: &'l [Link], name: &'l str) -> Vec<&'l str> {
    let mut group = vec![name];
    let mut next = 0;
    while let Some(&member) = group.get(next) {
        for link in links {
            let (one, other) = (link.name.as_str(), link.buddy.value.as_str());
            for linked in [(one, other), (other, one)] {
                if linked.0 == member && !group.contains(&linked.1) {
                    group.push(linked.1);
                }
            }
        }
        next += 1;
    }
    group
}
