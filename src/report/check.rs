//! Findings in a line.

use crate::finding::Finding;

/// `caution: pony-short (Tom), gas-dense, note: alone (Tom)`: the codes of findings, each weight
/// said once. Empty without findings.
#[must_use]
pub fn codes_in_a_line(findings: &[Finding]) -> String {
    let mut words = Vec::new();
    let mut weight = None;
    for finding in findings {
        let mut word = String::new();
        if weight != Some(finding.weight()) {
            weight = Some(finding.weight());
            word = format!("{}: ", finding.weight().word());
        }
        word.push_str(finding.code());
        if let Some(diver) = &finding.diver {
            word.push_str(&format!(" ({diver})"));
        }
        words.push(word);
    }
    words.join(", ")
}
