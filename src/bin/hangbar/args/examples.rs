//! What is typed at the rail and in the classroom, and how a plan looks: the words around a help.

pub(super) const AFTER_HELP: &str = "\
Exit status:
  0  go: no no-go finding
  1  no-go: at least one
  2  the plan or the command cannot be used
  3  an internal check failed: do not dive on it, report it

A plan is only as good as its figures. Plan with your own training and tables;
local rules and licensed practice come first.";

/// A plan that is whole.
pub(super) const A_PLAN: &str = "\
A plan:
  title = \"Sand Garden\"
  splash = \"10:20\"

  [profile]
  depth = \"16 m\"
  bottom_time = \"35 min\"

  [gas]
  bottom = \"air\"

  [[diver]]
  name = \"Tove\"
  sac = \"15 L/min\"
  cylinder = { size = \"12 L\", fill = \"210 bar\" }

  [[diver]]
  name = \"Ruan\"
  sac = \"0.6 cuft/min\"
  cylinder = { rated = \"100 cuft\", at = \"3442 psi\", fill = \"3200 psi\" }";

pub(super) const FIRST: &str = "\
Examples:
  hangbar brief plans/kittiwake-wall.toml
  hangbar brief plans/kittiwake-wall.toml --fill \"Mara=190 bar\"
  hangbar whatif plans/skua-stack.toml
  hangbar check plans";

pub(super) const BRIEF: &str = "\
Examples:
  hangbar brief plans/kittiwake-wall.toml --short
  hangbar brief plans/kittiwake-wall.toml --only Mara
  hangbar brief plans/kittiwake-wall.toml --bottom-time \"20 min\" --splash 12:05
  hangbar brief plans/orla-finch.toml --units metric";

pub(super) const WHATIF: &str = "\
Examples:
  hangbar whatif plans/skua-stack.toml
  hangbar whatif plans/skua-stack.toml --late 4min,8min --deeper 5m";

pub(super) const LIMITS: &str = "\
Examples:
  hangbar limits --gas air,EAN32
  hangbar limits plans/tern-slack.toml --gas air,EAN32
  hangbar limits --altitude \"1640 m\" --water fresh";

pub(super) const MIX: &str = "\
Examples:
  hangbar mix EAN32 --depth 24m
  hangbar mix --best-for 30m
  hangbar mix EAN32 --blend \"200 bar\" --from \"60 bar EAN28\"";

pub(super) const TRACE: &str = "\
Examples:
  hangbar trace plans/anvil.toml
  hangbar trace plans/anvil.toml --chart
  hangbar trace plans/anvil.toml --format csv";

pub(super) const EXPLAIN: &str = "\
Examples:
  hangbar explain plans/lesson-2-no-stop.toml --limit
  hangbar explain plans/tern-slack.toml --interval";

pub(super) const DAY: &str = "\
Examples:
  hangbar day plans/kittiwake-wall.toml plans/slack-water.toml
  hangbar day plans/kittiwake-wall.toml plans/slack-water.toml --home-by 16:00";

pub(super) const DEBRIEF: &str = "\
Examples:
  hangbar debrief plans/kittiwake-wall.toml slates.toml
  hangbar debrief plans/kittiwake-wall.toml slates.toml mara.csv";

pub(super) const CHECK: &str = "\
Examples:
  hangbar check plans
  hangbar check plans --format json";

pub(super) const SHEET: &str = "\
Examples:
  hangbar sheet plans/kittiwake-wall.toml -o sheet.html
  hangbar sheet plans/kittiwake-wall.toml --slate -o slate.html
  hangbar sheet plans/kittiwake-wall.toml plans/slack-water.toml -o day.html";

pub(super) const NEW: &str = "\
Examples:
  hangbar new saturday.toml
  hangbar new saturday-feet.toml --imperial --divers 4";

pub(super) const KEYS: &str = "\
Examples:
  hangbar keys
  hangbar keys diver.cylinder";

pub(super) const SCHEMA: &str = "\
Examples:
  hangbar schema plan
  hangbar schema briefing";

pub(super) const COMPLETIONS: &str = "\
Examples:
  hangbar completions bash
  hangbar completions fish";

pub(super) const MANUAL: &str = "\
Examples:
  hangbar manual
  hangbar manual brief
  hangbar manual --into .";
