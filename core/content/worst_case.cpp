// SPDX-License-Identifier: MIT
#include "core/content/worst_case.h"

#include "core/content/code.h"
#include "core/content/utf8.h"
#include "core/content/worst_code.h"
#include "core/content/worst_lettering.h"

#include <algorithm>
#include <utility>

namespace touchmark::content {
namespace {

/// The case in which these groups have other values than in the first unit.
WorstCase case_of(Worst what, const std::vector<ValueGroup>& groups, const std::vector<Choice>& choices) {
    WorstCase worst;
    worst.what = what;
    const bool only_checks = std::ranges::all_of(choices, [&](const Choice& one) { return groups[one.group].check; });
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const ValueGroup& group = groups[i];
        const auto chosen = std::ranges::find(choices, i, &Choice::group);
        const bool differs = chosen != choices.end();
        const ValueGroup::Candidate& values = differs ? chosen->candidate : group.candidates.front();
        if (group.of_table) {
            if (differs) worst.row = values.row;
        } else if (!group.check || differs || what == Worst::widest) { // else a check digit follows from the others
            worst.instead.emplace(group.names.front(), encode_utf8(values.values.front()));
        }
        if (!differs || (group.check && !only_checks)) continue;
        for (std::size_t k = 0; k < group.names.size(); ++k)
            worst.said += (worst.said.empty() ? "" : " and ") + group.names[k] + " " + encode_utf8(values.values[k]);
    }
    return worst;
}

} // namespace

std::optional<Text> lettering_of(const Content& content) {
    if (const auto* text = std::get_if<Text>(&content)) return *text;
    const auto* code = std::get_if<Code>(&content);
    if (!code || !(code->lettering.value > 0)) return std::nullopt;
    return Text{.text = code->message, .cap_height = code->lettering};
}

std::vector<WorstCase> worst_cases(const Content& content, const Variables& variables, const Unit& first,
                                   const Measures& measures) {
    std::vector<WorstCase> cases{WorstCase{}};
    const std::string* text = text_with_variables(content);
    if (!text || !has_braces(*text)) return cases;
    const auto parts = expanded_parts(content, variables, first);
    if (!parts) return cases;
    const ValueGroups found = groups_in(*parts, variables);
    std::vector<std::string> said{said_by(expanded(content, variables, first).value_or(content))};
    const auto add = [&](WorstCase worst) {
        const auto made = expanded(content, variables, first, worst);
        const std::string what = made ? said_by(*made) : made.error().message;
        if (std::ranges::find(said, what) != said.end()) return;
        said.push_back(what);
        cases.push_back(std::move(worst));
    };
    if (found.empty_row) add({.what = Worst::broken, .row = *found.empty_row, .instead = {}, .said = {}});
    if (lettering_of(content))
        for (const auto& [what, choices] : worst_lettering(*parts, found.groups, measures))
            if (!choices.empty()) add(case_of(what, found.groups, choices));
    if (std::holds_alternative<Code>(content)) {
        const auto made = [&](const std::vector<Choice>& choices) {
            return expanded(content, variables, first, case_of(Worst::longest, found.groups, choices));
        };
        if (const auto choices = worst_code(found.groups, made); !choices.empty())
            add(case_of(Worst::longest, found.groups, choices));
    }
    return cases;
}

std::string sentence(const WorstCase& worst) {
    switch (worst.what) {
    case Worst::first_unit:
    case Worst::broken:
        return {};
    case Worst::widest:
        return "The widest is " + worst.said + ".";
    case Worst::tallest:
        return "The tallest is " + worst.said + ".";
    case Worst::thinnest:
        return "The thinnest strokes are those of " + worst.said + ".";
    case Worst::tightest:
        return "The tightest gaps are those of " + worst.said + ".";
    case Worst::lacking:
        return "It is so for " + worst.said + ".";
    case Worst::longest:
        return "The largest code is that of " + worst.said + ".";
    }
    std::unreachable();
}

Result<Content> expanded(const Content& content, const Variables& variables, const Unit& first,
                         const WorstCase& worst) {
    return expanded(content, variables, Unit{worst.row, first.day}, worst.instead);
}

} // namespace touchmark::content
