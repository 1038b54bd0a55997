// SPDX-License-Identifier: MIT
#include "core/rules/table.h"

#include "core/base/parallel.h"
#include "core/rules/side_effects.h"
#include "core/rules/support.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace touchmark::rules {
namespace {

// A new rule: a row here, its file, its test and its section in docs/findings.md.
constexpr std::array table{
    Rule{"content", "Content", "Whether the mark can be drawn and put on its face at all.",
         "A mark that cannot be made is missing from every part of the batch.", judge_content},
    Rule{"missing_characters", "Missing characters", "Whether the font has every character of the text.",
         "A character the font lacks is left out, so the part would carry another text than the drawing asks for.",
         judge_missing_characters},
    Rule{"left_out", "Left out of a drawing", "Whether every element of a drawing could be made a solid shape.",
         "What a drawing program shows in colour, by an effect or as live text is not on the part unless it has a "
         "shape.",
         judge_left_out},
    Rule{"leaves_face", "Leaves the face", "Whether the whole mark lies on its face.",
         "What hangs over an edge is cut off or bridges into thin air, and the text is no longer complete.",
         judge_leaves_face},
    Rule{"stroke_width", "Stroke width", "How wide the strokes of the mark really are, everywhere.",
         "No machine lays or spares out much less than its line, spot or pixel: thinner strokes blur, break up or "
         "vanish.",
         judge_stroke_width},
    Rule{"gap_width", "Gap width", "How wide the openings in and between the letters are.",
         "What is laid or melted spreads: a narrow gap closes, and the letters run together or lose their counters.",
         judge_gap_width},
    Rule{"depth", "Depth", "Whether the mark is deep or high enough to be read, and not more.",
         "Too shallow, it drowns in the edges of the layers; too deep, strokes close up or break off.", judge_depth},
    Rule{"draft", "Draft", "Whether walls that lean or are rounded at the floor leave a floor.",
         "Where they meet first there is no floor: the mark is as deep as it is wide, and fades out at its ends.",
         judge_draft},
    Rule{"cover", "Cover", "How far under the face a hidden mark lies.",
         "Too near, the skin over it stays open or shows the mark; too deep, no light comes through to read it by.",
         judge_cover},
    Rule{"opening", "Opening", "Whether a mark that is cut through has a far side and leaves nothing loose.",
         "The inside of a cut-out letter has nothing to hang on: it falls out, in the printer or at the customer.",
         judge_opening},
    Rule{"bridge_width", "Bridge width", "How wide the bridges are that hold the insides of letters.",
         "A bridge thinner than the process draws breaks when the part is taken off or handled.", judge_bridge_width},
    Rule{"remaining_wall", "Remaining wall",
         "How much material is left behind a cut, and how much air over a raised mark.",
         "A thin rest shows through, warps or tears open; a raised mark that meets another face seizes or fuses.",
         judge_remaining_wall},
    Rule{"edge_margin", "Edge margin", "How far the mark stays from the edges of its face.",
         "Corners are rounded by the process and knocked in handling; text that reaches them wears off first.",
         judge_edge_margin},
    Rule{"quiet_zone", "Quiet zone", "Whether the margin around a code stays free.",
         "A scanner finds a code by the plain margin around it; an edge or another mark in it, and the code is not "
         "found.",
         judge_quiet_zone},
    Rule{"stretch", "Stretch", "How much a face that cannot be rolled out stretches or squeezes the mark.",
         "Letters look out of shape, strokes and gaps are not as wide as they were drawn, and a code's modules differ.",
         judge_stretch},
    Rule{"overlap", "Overlap", "Whether marks on one face stay clear of each other.",
         "Marks that touch run into one and neither can be read.", judge_overlap},
    Rule{"zone", "Zone", "How well the place takes this kind of mark as the part lies on the plate.",
         "Some places take a mark sharply; others lose detail to supports, the first layers or stair steps.",
         judge_zone},
    Rule{"simulated_print", "Simulated print",
         "What of each letter is there when the mark has been printed in simulation.",
         "A letter that has lost a stroke is taken for another, or for none.", judge_simulated_print},
    Rule{"code_reading", "Code reading", "Whether a decoder reads the code from its simulated print.",
         "A code that the reader at the end of the line does not read stops the line, or lets parts by unseen.",
         judge_code_reading},
    Rule{"light", "Against a light", "Whether a hidden mark stands out when the part is held against a light.",
         "Too little contrast or too thick a wall, and nobody finds the mark again.", judge_light},
    Rule{"islands", "Islands", "How many islands a layer of the mark has, and how small the smallest is.",
         "Each is a travel, a retraction and a new start: they string, and the smallest do not take hold or are torn "
         "off.",
         judge_islands},
    Rule{"island_heat", "Heat of small islands",
         "Whether the layers of a mark that is raised on the highest face have time to cool.",
         "The nozzle comes back before the layer is solid: small strokes smear, round off and are dragged along.",
         judge_island_heat},
    Rule{"whole_layers", "Whole layers", "Whether the depth on a level face is a whole number of layers.",
         "The printer knows only whole layers: what lies between is rounded, and not always to the same side.",
         judge_whole_layers},
    Rule{"stair_steps", "Stair steps", "How the steps of the layers on a slope compare with strokes and depth.",
         "Between two layers a slope is a step; strokes as fine as the steps come out torn, and shallow ones drown.",
         judge_stair_steps},
    Rule{"ledge", "Ledge", "How far the undersides of a raised mark jut out with nothing below.",
         "The first of a ledge hangs in the air: it sags, curls, and the lower edges of the letters fray.",
         judge_ledge},
    Rule{"wrap", "Wrap", "How far a mark on a bent face turns out of sight.",
         "What turns away looks narrow, then is gone: nobody reads it in one look, and a scanner not at all.",
         judge_wrap},
    Rule{"code_module", "Code module", "How a code's modules compare with lines and layers.",
         "A scanner measures modules against each other; those that lines or layers cannot draw come out unequal.",
         judge_code_module},
    Rule{"code_relief", "Code in one colour", "How deep a code of one colour is for the size of its modules.",
         "Without a second colour a scanner sees shadows only, and a shallow module has none.", judge_code_relief},
    Rule{"lookalikes", "Lookalikes", "Which characters of a serial or part number may be taken for others.",
         "A misread serial traces back to another part, and nobody notices.", judge_lookalikes},
    Rule{"upside_down", "Upside down", "Whether lettering stands upright as the part stands.",
         "Whoever holds or mounts the part that way reads it on its head, or not at all.", judge_upside_down},
    Rule{"reading_distance", "Reading distance", "Whether letters are high enough for where they are read from.",
         "From farther off people guess, step nearer or pass over it.", judge_reading_distance},
    Rule{"kept_clear", "Kept clear", "Whether the mark stays off faces that the engineer keeps clear.",
         "A mark in a seal leaks, on a mating face it sets the fit off, in a loaded face it starts a crack.",
         judge_kept_clear},
    Rule{"notch", "Notch", "How much of the wall a cut takes, and whether its floor is a notch in a loaded face.",
         "A cut weakens the wall by more than its depth: stress gathers in its corners, between the layers first.",
         judge_notch},
    Rule{
        "part_notes", "Part", "What was odd about the part's file.",
        "A faulty solid can come out of the printer, or of the next program, differently from what it looks like here.",
        nullptr, judge_part_notes},
};

} // namespace

std::span<const Rule> rules() {
    return table;
}

const Rule* find_rule(std::string_view id) {
    const auto row = std::ranges::find(table, id, &Rule::id);
    return row == table.end() ? nullptr : &*row;
}

std::vector<Finding> judge_part(const part::Part& part) {
    std::vector<Finding> findings;
    for (const Rule& rule : table)
        if (rule.judge_part) rule.judge_part(part, findings);
    std::ranges::stable_sort(findings, {}, &Finding::severity);
    return findings;
}

std::vector<MarkView> WhatIf::views(const job::Job& job, std::size_t mark, Need need) const {
    std::vector<MarkView> views;
    views.push_back(view(job, mark, need));
    return views;
}

namespace {

/// The worst word of a rule first, then by how far the figure is off.
std::pair<int, double> badness(std::span<const Finding> findings) {
    std::pair<int, double> worst{-1, 0};
    for (const Finding& finding : findings)
        worst = std::max(worst, std::pair(static_cast<int>(Severity::advice) - static_cast<int>(finding.severity),
                                          std::abs(finding.figure - missed(finding))));
    return worst;
}

/// A unit chosen for its strokes may be the worst for another reason as well; then it is only named.
content::Worst said_of(const Rule& rule, content::Worst which) {
    using enum content::Worst;
    const bool other =
        (which == thinnest && rule.id != "stroke_width") || (which == tightest && rule.id != "gap_width");
    return other ? lacking : which;
}

/// What the rule says about the worst of the mark's units; the first unit speaks where another is no worse. Fixes are
/// looked for once the worst is known.
std::vector<Finding> judge_units(Context& context, std::size_t mark, const Rule& rule) {
    std::vector<MarkView>& others = context.other_units[mark];
    const auto judged = [&] {
        std::vector<Finding> findings;
        rule.judge(context, mark, findings);
        return findings;
    };
    MarkView* worst = nullptr; // null: the one that is in its place
    if (!others.empty()) {
        const WhatIf* const asked = std::exchange(context.what_if, nullptr);
        std::pair<int, double> most = badness({});
        const auto look = [&](MarkView* view) {
            constexpr double hair = 1e-9;
            const auto now = badness(judged());
            if (now.first > most.first || (now.first == most.first && now.second > most.second + hair))
                most = now, worst = view;
        };
        for (MarkView& other : others) {
            std::swap(other, context.marks[mark]);
            look(&other);
            std::swap(other, context.marks[mark]);
        }
        look(nullptr);
        context.what_if = asked;
    }
    if (worst) std::swap(*worst, context.marks[mark]);
    std::vector<Finding> findings = judged();
    for (Finding& finding : findings)
        if (const MarkView& view = context.marks[mark]; !view.worst.empty()) {
            content::WorstCase unit;
            unit.what = said_of(rule, view.which);
            unit.said = view.worst;
            finding.message += " " + content::sentence(unit);
        }
    if (worst) std::swap(*worst, context.marks[mark]);
    return findings;
}

} // namespace

std::vector<Finding> judge_mark(Context& context, std::size_t mark) {
    std::vector<Finding> findings;
    for (const Rule& rule : table)
        if (rule.judge) std::ranges::move(judge_units(context, mark, rule), std::back_inserter(findings));
    return findings;
}

std::vector<Finding> judge_mark_by(Context& context, std::size_t mark, std::string_view rule) {
    return judge_units(context, mark, *find_rule(rule));
}

namespace {

/// Of every mark, what each rule says in the order of the rules. Looking for fixes takes the most: rules that look for
/// some do so side by side.
std::vector<std::vector<Finding>> judge_marks(const Context& context) {
    std::vector<Context> own(most_workers(), context);
    std::vector<std::vector<Finding>> said(context.marks.size() * table.size());
    side_by_side(said.size(), [&](std::size_t i, std::size_t worker) {
        const Rule& rule = table[i % table.size()];
        if (rule.judge) said[i] = judge_units(own[worker], i / table.size(), rule);
    });
    std::vector<std::vector<Finding>> of_marks(context.marks.size());
    for (std::size_t i = 0; i < said.size(); ++i)
        std::ranges::move(said[i], std::back_inserter(of_marks[i / table.size()]));
    return of_marks;
}

} // namespace

std::vector<Finding> judge(Context context) {
    context.other_units.resize(context.marks.size());
    std::vector<std::vector<Finding>> of_marks = judge_marks(context);
    if (context.what_if) own_up(context, of_marks);
    std::vector<Finding> all;
    for (std::vector<Finding>& findings : of_marks) {
        std::ranges::stable_sort(findings, {}, &Finding::severity);
        std::ranges::move(findings, std::back_inserter(all));
    }
    std::ranges::move(judge_part(context.part), std::back_inserter(all));
    return all;
}

} // namespace touchmark::rules
