// SPDX-License-Identifier: MIT
#include "core/rules/printed_fixes.h"
#include "core/rules/table.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

constexpr std::string_view source =
    "simulated print; the shares from which a letter reads are calibrated against the trade's figures";

/// What the letter is short of most, in words.
std::string lack_of(const print::Fidelity& letter) {
    if (letter.gaps < letter.strokes) return percent(letter.gaps) + " of the openings in and about it";
    return percent(letter.strokes) + " of its strokes";
}

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    if (!view.printed) return {};
    const print::Verdict verdict = view.printed->lettering_verdict();
    if (verdict == print::Verdict::reads) return {};
    const bool lost = verdict == print::Verdict::lost;
    Finding finding = finding_of("simulated_print", view, lost ? Severity::blocker : Severity::warning);
    std::vector<const print::PrintedPiece*> bad;
    for (const print::PrintedPiece& piece : view.printed->pieces)
        if (piece.fidelity.figure() < print::reads_from) bad.push_back(&piece);
    std::ranges::stable_sort(bad, {}, [](const print::PrintedPiece* piece) { return piece->fidelity.figure(); });
    std::vector<std::string> names;
    std::vector<Vec2> where;
    for (const print::PrintedPiece* piece : bad) {
        if (const std::string name = in_quotes(piece->label); std::ranges::find(names, name) == names.end())
            names.push_back(name);
        where.push_back(on_map(view, piece->fidelity.worst));
    }
    const print::Fidelity& worst = bad.front()->fidelity;
    finding.figure = worst.figure();
    finding.limit = print::lost_below;
    finding.comfortable = print::reads_from;
    finding.source = source;
    finding.message = "Printed in simulation, " + names.front() + " keeps " + lack_of(worst) +
                      (lost ? " and is lost" : " and is hard to read");
    if (names.size() > 1) {
        names.erase(names.begin());
        finding.message += "; " + some_of(names) + " suffer too";
    }
    finding.message += ".";
    const Box2& box = bad.front()->box;
    locate(finding, view, std::move(where), std::max(box.width(), box.height()));
    return {std::move(finding)};
}

void offer_bold(const Fixer& fixer, Finding& finding) {
    constexpr int bold = 700;
    const content::Text* text = text_of(*fixer.view().mark);
    if (!text || text->weight >= bold) return;
    offer_printed(fixer, finding,
                  {"weight", "Bold lettering",
                   edit_text(fixer.view().mark->id, [](content::Text& edited) { edited.weight = bold; })});
}

} // namespace

void judge_simulated_print(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        offer_bold(fixer, finding);
        offer_printed_size(fixer, finding);
        if (fixer.view().mark->mode == Mode::raise)
            offer_printed(fixer, finding,
                          {"engrave", "Cut instead of raised", edit_mode(fixer.view().mark->id, Mode::engrave)});
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
