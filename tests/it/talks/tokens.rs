//! Tokens as anybody may send them: real, nearly real and made up.

use proptest::prelude::*;

use super::buttons::any_button;

/// Anything, something like a token, a real one near today, or a real one with one slip.
pub fn any_token() -> impl Strategy<Value = String> {
    let names = "(agree|decline|zone|right|place|at|from|tier|ask|leave|try|tried|worked|undo|rows|\
        unsure|compare|later|putoff|skip|fornow|assume|assumeall|many|drop|unmany|note|unnote|yarn|\
        balls|weighs|ball|weigh|recap|set|change|setat|setturn|setzone|setnudge|nudges|setrecap|\
        resume|upto|unupto|unstock|line|unline|make|rowsend|card|leaverow|\
        pull|where|stripes|top|after|block|blocks|finish|yarnof|before|correct|buy|yarnset|joins|\
         label|common|hue|scale|people|steps|noguess|means|trymeans|drawn|sheet|draw|paper|years|bring)";
    let field = r"(\|(-?[0-9]{0,9}|0[0-9]{3}|202[67][01][0-9][0-3][0-9]|Europe/Lisbon|[a-z]{0,4}))";
    let near = [
        r"1\|tier\|202701[012][0-9]\|[1-9]",
        // Of days that have begun: tiers that are removed leave fewer that answer.
        r"1\|tier\|202701(0[1-9]|1[0-4])\|[1-9]",
        r"1\|(ask|leave|unsure|later|skip|assume|note|recap)\|202701[012][0-9]",
        r"1\|compare\|202701[012][0-9]\|[0-3x]",
        r"1\|means\|202701[012][0-9]\|[qno]|1\|trymeans",
        r"1\|fornow\|202701[012][0-9]\|[01]",
        r"1\|putoff\|202701[012][0-9]\|(202701[012][0-9])?",
        r"1\|assumeall\|202701[012][0-9]\|202701[012][0-9]\|[0-9]{1,2}",
        r"1\|(upto|unupto)\|[1-3]\|[0-9]\|[1-3]\|[1-9]",
        r"1\|(weigh|ball|yarnof|before|correct)\|[1-9]",
        r"1\|correct\|[1-8]\|[0-9]{1,7}|1\|unstock\|[1-8]\|[0-3]",
        r"1\|yarnset\|(units\|(g|oz)|scale\|(1|01)|target\|(80|95)|whole\|[01]|join\|(sewn|none))",
        r"1\|common\|[1-8]\|(hardly|some|often|most)",
        r"1\|setturn\|(0[0-9]|1[0-9])00",
        r"1\|(set|resume|yarn|balls|weighs|buy|yarnset|joins|label|common)",
        r"1\|make\|cut\|([mfs]|e[1-9][0-9]?)",
        r"1\|make\|go\|[0-4]\|[0-9]{1,5}\|(rows\|[34][0-9]|fillers\|(both|before)|cut\|e[1-9])",
        r"1\|make\|(rows\|[34][0-9]|fillers\|(after|both|before|half)|short\|[01])",
        r"1\|make\|(stitch\|(lc|g1|t|s|ls)\|[01]|turned\|[01]|first\|[01]|carry\|[035])",
        r"1\|card\|(open|on|stop|back\|1\|[0-4]|ask\|202701[012][0-9])",
        r"1\|card\|done\|1\|[1-4]\|[0-9]{1,5}",
        r"1\|pull\|1\|[0-4]\|[0-4]",
        r"1\|leaverow\|202701[012][0-9]",
        r"1\|rowsend",
        r"1\|stripes\|[12]\|([1-8](\.[1-8]){0,4})?\|[01]",
        r"1\|(top|after)\|[12]\|[0-4]\|([1-8](\.[1-8]){0,4})?\|[01]",
        r"1\|finish\|[12]\|(woven|joined)\|[01]",
        r"1\|(block|drawn|sheet)\|[0-9]{1,2}|1\|(where|blocks)",
        r"1\|hue\|(check|all|ready|orders|(one|name|other)\|[1-9]|take\|[0-3]|(undo|code|use)\|[0-9]{1,13})",
        r"1\|paper\|(show|size\|(a4|a5|letter)|first\|(bottom|top)|left\|[01])",
        r"1\|draw\|(yarn|year|card|imagined|week\|202701[012][0-9])",
        r"1\|hue\|set\|[1-9]\.[0-9A-F]{6}(,[1-9]\.[0-9A-F]{6}){0,4}",
        r"1\|hue\|order\|[1-7](,[1-7]){6}",
        r"1\|bring\|(go|leave)\|[0-9]{1,13}",
        r"1\|years\|(list|next|(take|begin|move|back|delete)\|202[78]0[1-9][012][0-9])",
        r"1\|years\|move\|202[78]0[1-9][012][0-9]\|202[78]0[1-9][012][0-9]",
        r"1\|steps\|(list|open|later|go\|(scale|lines|asks|hue|default|common|blocks|units|names))",
        r"1\|people\|(list|add|(drop|back)\|[1-5])",
        r"1\|scale\|(open|home|default|asks|usual|add|add\|[1-8]?)",
        r"1\|scale\|(tier|name|drop|default)\|[1-8]|1\|scale\|(move|drop)\|[1-8]\|[1-7]",
    ]
    .join("|");
    // Days are answered often enough for what follows from an answer to be met.
    let rows = r"1\|tier\|2027010[1-9]\|[1-7]|1\|worked\|1\|[1-4]\|[1-4]\|[0-9]{1,5}|1\|undo\|1\|[0-4]\|[0-4]|1\|rows";
    prop_oneof![
        ".{0,80}",
        prop::string::string_regex(&format!(r"[0-9]?\|{names}{field}{{0,5}}")).unwrap(),
        prop::string::string_regex(&near).unwrap(),
        rows,
        (any_button(), any::<prop::sample::Index>(), any::<char>()).prop_map(|(button, at, c)| {
            let mut chars: Vec<char> = button.token().chars().collect();
            let at = at.index(chars.len());
            chars[at] = c;
            chars.into_iter().collect()
        }),
    ]
}
