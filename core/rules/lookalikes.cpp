// SPDX-License-Identifier: MIT
#include "core/rules/lookalikes.h"

#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <iterator>
#include <set>

namespace touchmark::rules {
namespace {

constexpr std::string_view figures = "0123456789";

bool is_figure(char c) {
    return c >= '0' && c <= '9';
}
bool is_capital(char c) {
    return c >= 'A' && c <= 'Z';
}
bool is_small(char c) {
    return c >= 'a' && c <= 'z';
}

bool varies(const job::Mark& mark, const content::Text& said) {
    const content::Text* given = text_of(mark);
    return given && given->text != content::escaped(said.text);
}

/// What holds figures, between spaces and dashes: in NW-2207 nobody expects a letter among the figures, in 22O7B one
/// might be. Plain words are read whole.
std::vector<std::string> numbers_in(const std::string& text) {
    std::vector<std::string> found(1);
    for (const char c : text + ' ')
        if (is_figure(c) || is_capital(c) || is_small(c))
            found.back() += c;
        else
            found.emplace_back();
    std::erase_if(found,
                  [](const std::string& word) { return word.size() < 2 || std::ranges::none_of(word, &is_figure); });
    return found;
}

/// Whether somebody who sees the one in that word may take it for the other: only kinds of characters that it holds.
bool may_be_taken(const content::Lookalike& pair, const std::string& word, bool any_figure) {
    const auto holds = [&](char c) { return word.find(c) != std::string::npos || (any_figure && is_figure(c)); };
    const auto of_its_kind = [&](char c) {
        return std::ranges::any_of(word, is_figure(c) ? &is_figure : is_capital(c) ? &is_capital : &is_small);
    };
    return (holds(pair.character) && of_its_kind(pair.other)) || (holds(pair.other) && of_its_kind(pair.character));
}

bool has_zero(const content::Lookalike& pair) {
    return pair.character == '0' || pair.other == '0';
}

std::vector<Finding> assess(const Context& context, const MarkView& view, bool zeros) {
    const process::Limit* limit = context.process.limit("distinct", view.mark->mode, view.zone);
    const auto* said = std::get_if<content::Text>(&view.said);
    if (!limit || !said || !view.drawn || !view.lookalikes) return {};
    const bool any_figure = varies(*view.mark, *said);
    std::set<std::pair<char, char>> seen;
    std::vector<std::string> names;
    std::optional<double> least;
    std::set<char> marked;
    for (const content::Lookalike& pair : *view.lookalikes) {
        if (pair.upturned || has_zero(pair) != zeros || !at_least(pair.distinct, *limit)) continue;
        const auto words = numbers_in(said->text);
        if (std::ranges::none_of(words, [&](const std::string& word) { return may_be_taken(pair, word, any_figure); }))
            continue;
        if (!least) least = pair.distinct;
        names.push_back(in_quotes({&pair.character, 1}) + " for " + in_quotes({&pair.other, 1}));
        marked.insert({pair.character, pair.other});
    }
    if (!least) return {};
    Finding finding = finding_of("lookalikes", view, Severity::advice);
    set_figures(finding, *least, *limit);
    finding.message = "In " + view.drawn->face.family + " at " + text_of(view.drawn->cap_height) + " " +
                      some_of(names, 3) + " may be read: what tells them apart is " +
                      apart(*least, limit->comfortable.value) + " wide; " + text_of(Mm(limit->comfortable.value)) +
                      " is seen at a glance.";
    std::vector<Vec2> where;
    for (const content::Piece& piece : view.drawn->pieces)
        if (piece.label.size() == 1 && marked.contains(piece.label.front()))
            where.push_back(on_map(view, piece.extent.centre()));
    if (where.empty()) where.push_back(view.mark->anchor.at); // of another unit
    locate(finding, view, std::move(where), std::max(1.0, view.drawn->cap_height.value));
    return {std::move(finding)};
}

std::vector<Finding> assess_zeros(const Context& context, const MarkView& view, std::size_t) {
    return assess(context, view, true);
}
std::vector<Finding> assess_others(const Context& context, const MarkView& view, std::size_t) {
    return assess(context, view, false);
}

/// What the text reads as upside down, line by line from the last; nullopt where it shows which way is up.
std::optional<std::string> upside_down(const MarkView& view, double told_apart) {
    const auto* said = std::get_if<content::Text>(&view.said);
    if (!said || !view.lookalikes) return std::nullopt;
    std::string turned;
    for (const char c : said->text) {
        if (c == ' ' || c == '\n' || c == '-') {
            turned.insert(turned.begin(), c);
            continue;
        }
        const auto pair = std::ranges::find_if(
            *view.lookalikes, [&](const content::Lookalike& one) { return one.upturned && one.character == c; });
        if (pair == view.lookalikes->end() || pair->distinct >= told_apart) return std::nullopt;
        turned.insert(turned.begin(), pair->other);
    }
    return turned == said->text ? std::nullopt : std::optional(turned);
}

std::vector<Finding> assess_upturned(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("distinct", view.mark->mode, view.zone);
    const auto reads = limit && view.drawn ? upside_down(view, limit->comfortable.value) : std::nullopt;
    if (!reads) return {};
    std::string said = std::get<content::Text>(view.said).text, other = *reads;
    std::ranges::replace(said, '\n', ' '), std::ranges::replace(other, '\n', ' ');
    Finding finding = finding_of("lookalikes", view, Severity::advice);
    finding.limit = limit->comfortable.value;
    finding.unit = "mm";
    finding.source = "computed: the letters stood on their heads and laid over each other";
    for (const content::Lookalike& pair : *view.lookalikes)
        if (pair.upturned && said.find(pair.character) != std::string::npos)
            finding.figure = std::max(finding.figure, pair.distinct);
    finding.message = "Held the other way up, " + in_quotes(said) + " reads " + in_quotes(other) +
                      ". A line under it, or a word beside it, says which way is up.";
    locate_whole(finding, view);
    return {std::move(finding)};
}

/// A face that is drawn so that figures and capitals are not mixed up, of the standard one's kin; where this machine
/// has it.
void offer_face(const Fixer& fixer, Finding& finding) {
    static const std::string distinct = "DejaVu Sans Mono";
    const content::Text* text = text_of(*fixer.view().mark);
    const std::vector<std::string>& families = fixer.context().fonts.families();
    if (!text || text->family == distinct || std::ranges::find(families, distinct) == families.end()) return;
    fixer.offer(finding,
                {"family", "Font " + text->family + " → " + distinct,
                 edit_text(fixer.view().mark->id,
                           [](content::Text& edited) { edited.family = distinct, edited.axes.clear(); })},
                Need::widths);
}

/// A zero with a stroke or a dot in it, where the face has one.
void offer_zero(const Fixer& fixer, Finding& finding) {
    const content::Text* text = text_of(*fixer.view().mark);
    if (!text || text->features.find("zero") != std::string::npos) return;
    const std::string features = text->features.empty() ? "zero" : text->features + ", zero";
    fixer.offer(finding,
                {"zero", "A zero with a stroke in it",
                 edit_text(fixer.view().mark->id, [features](content::Text& edited) { edited.features = features; })},
                Need::widths);
}

} // namespace

std::string characters_at_hand(const job::Mark& mark, const content::Text& said) {
    return varies(mark, said) ? said.text + std::string(figures) : said.text;
}

void judge_lookalikes(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (const bool zeros : {true, false}) {
        const Assess of = zeros ? &assess_zeros : &assess_others;
        for (Finding& finding : of(context, view, mark)) {
            const Fixer fixer(context, mark, of, finding.severity);
            if (context.what_if) {
                if (zeros) offer_zero(fixer, finding);
                // Another face must not mix up others instead.
                offer_face(Fixer(context, mark, &assess_together<assess_zeros, assess_others>, finding.severity),
                           finding);
                if (finding.figure > 0) offer_size(fixer, finding, *finding.comfortable / finding.figure);
            }
            findings.push_back(std::move(finding));
        }
    }
    for (Finding& finding : assess_upturned(context, view, mark))
        findings.push_back(std::move(finding));
}

} // namespace touchmark::rules
