// SPDX-License-Identifier: MIT
#include "core/rules/side_effects.h"

#include "core/rules/support.h"
#include "core/rules/table.h"

#include <algorithm>
#include <map>

namespace touchmark::rules {
namespace {

/// The worst word of each rule on each mark.
using Words = std::map<std::pair<std::string, std::string>, Severity>;

void add(Words& words, const std::vector<Finding>& findings) {
    for (const Finding& finding : findings) {
        const auto [at, fresh] = words.try_emplace({finding.mark, finding.rule}, finding.severity);
        if (!fresh) at->second = std::min(at->second, finding.severity);
    }
}

/// The view that is judged first: the widest unit's, else the first unit's.
void put_views(Context& context, std::size_t mark, std::vector<MarkView> views) {
    const auto widest = std::ranges::find(views, content::Worst::widest, &MarkView::which);
    const auto judged = widest == views.end() ? views.begin() : widest;
    context.marks[mark] = std::move(*judged);
    views.erase(judged);
    context.other_units[mark] = std::move(views);
}

/// What is said once an edit is made; the same edit is not tried twice.
class Trials {
public:
    Trials(Context& context, std::size_t mark) : context_(context), mark_(mark) {}

    /// nullptr where the edit is refused.
    const Words* after(const job::Edit& edit) {
        auto edited = edit(context_.job);
        if (!edited) return nullptr;
        for (const auto& [job, words] : known_)
            if (*job == *edited) return &words;
        known_.emplace_back(std::make_unique<const job::Job>(std::move(*edited)), Words());
        known_.back().second = judged(*known_.back().first);
        return &known_.back().second;
    }

private:
    /// Marks that are as they were are judged by what they have to do with this one alone.
    Words judged(const job::Job& edited) {
        const bool stands_anew = edited.pose != context_.job.pose;
        Context trial{edited,
                      context_.part,
                      context_.process,
                      context_.fonts,
                      context_.meshes,
                      std::move(context_.marks),
                      context_.placement,
                      context_.height_mm,
                      nullptr,
                      std::move(context_.other_units)};
        if (stands_anew) trial.placement = plate::placement_of(edited.pose, context_.meshes);
        std::vector<std::pair<std::size_t, std::pair<MarkView, std::vector<MarkView>>>> kept;
        for (std::size_t i = 0; i < trial.marks.size(); ++i)
            if (i == mark_ || stands_anew) {
                kept.push_back({i, {std::move(trial.marks[i]), std::move(trial.other_units[i])}});
                put_views(trial, i, context_.what_if->views(edited, i, Need::wall));
            }
        Words words;
        for (std::size_t i = 0; i < trial.marks.size(); ++i)
            if (i == mark_ || stands_anew)
                add(words, judge_mark(trial, i));
            else {
                add(words, judge_mark_by(trial, i, "island_heat"));
                if (!beside(trial.marks[i], trial.marks[mark_])) continue;
                for (const std::string_view rule : {"overlap", "quiet_zone"})
                    add(words, judge_mark_by(trial, i, rule));
            }
        for (auto& [i, views] : kept) {
            trial.marks[i] = std::move(views.first);
            trial.other_units[i] = std::move(views.second);
        }
        context_.marks = std::move(trial.marks);
        context_.other_units = std::move(trial.other_units);
        return words;
    }

    static bool beside(const MarkView& a, const MarkView& b) {
        return a.map && b.map && a.map->face() == b.map->face();
    }

    Context& context_;
    std::size_t mark_;
    std::vector<std::pair<std::unique_ptr<const job::Job>, Words>> known_;
};

/// By the titles of their rules: "depth", "stroke width".
struct Brought {
    bool blocks = false;
    std::vector<std::string> at_risk;
};

Brought brought(const Words& before, const Words& after, Severity than) {
    Brought found;
    for (const auto& [whose, severity] : after) {
        const auto was = before.find(whose);
        if (severity >= than || (was != before.end() && was->second <= severity)) continue;
        if (severity == Severity::blocker) found.blocks = true;
        std::string title(find_rule(whose.second)->title);
        title.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(title.front())));
        if (std::ranges::find(found.at_risk, title) == found.at_risk.end()) found.at_risk.push_back(std::move(title));
    }
    return found;
}

} // namespace

void own_up(Context& context, std::vector<std::vector<Finding>>& findings) {
    Words before;
    for (const std::vector<Finding>& of_mark : findings)
        add(before, of_mark);
    for (std::size_t mark = 0; mark < findings.size(); ++mark) {
        Trials trials(context, mark);
        for (Finding& finding : findings[mark]) {
            if (finding.severity == Severity::blocker) continue; // nothing is worse
            std::erase_if(finding.fixes, [&](Fix& fix) {
                const Words* after = trials.after(fix.edit);
                if (!after) return true;
                const Brought besides = brought(before, *after, finding.severity);
                if (besides.blocks) return true;
                if (!besides.at_risk.empty()) fix.title += "; then at risk: " + some_of(besides.at_risk);
                return false;
            });
        }
    }
}

} // namespace touchmark::rules
