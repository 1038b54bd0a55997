// SPDX-License-Identifier: MIT
#include "core/rules/side_effects.h"

#include "core/base/parallel.h"
#include "core/rules/support.h"
#include "core/rules/table.h"

#include <algorithm>
#include <map>
#include <memory>
#include <optional>

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

/// Marks that are as they were are judged by what they have to do with the edited one alone.
Words said_after(Context& context, const job::Job& edited, std::size_t mark) {
    const auto beside = [](const MarkView& a, const MarkView& b) {
        return a.map && b.map && a.map->face() == b.map->face();
    };
    const bool stands_anew = edited.pose != context.job.pose;
    Context trial{edited,
                  context.part,
                  context.process,
                  context.fonts,
                  context.meshes,
                  std::move(context.marks),
                  context.placement,
                  context.height_mm,
                  nullptr,
                  std::move(context.other_units)};
    if (stands_anew) trial.placement = plate::placement_of(edited.pose, context.meshes);
    std::vector<std::pair<std::size_t, std::pair<MarkView, std::vector<MarkView>>>> kept;
    for (std::size_t i = 0; i < trial.marks.size(); ++i)
        if (i == mark || stands_anew) {
            kept.push_back({i, {std::move(trial.marks[i]), std::move(trial.other_units[i])}});
            put_views(trial, i, context.what_if->views(edited, i, Need::wall));
        }
    Words words;
    for (std::size_t i = 0; i < trial.marks.size(); ++i)
        if (i == mark || stands_anew)
            add(words, judge_mark(trial, i));
        else {
            add(words, judge_mark_by(trial, i, "island_heat"));
            if (!beside(trial.marks[i], trial.marks[mark])) continue;
            for (const std::string_view rule : {"overlap", "quiet_zone"})
                add(words, judge_mark_by(trial, i, rule));
        }
    for (auto& [i, views] : kept) {
        trial.marks[i] = std::move(views.first);
        trial.other_units[i] = std::move(views.second);
    }
    context.marks = std::move(trial.marks);
    context.other_units = std::move(trial.other_units);
    return words;
}

/// What is said once each of some edits is made; the same edit is not tried twice.
class Trials {
public:
    /// For after(); nullopt where the edit is refused.
    std::optional<std::size_t> add(const job::Job& job, std::size_t mark, const job::Edit& edit) {
        auto edited = edit(job);
        if (!edited) return std::nullopt;
        const auto known = std::ranges::find_if(
            trials_, [&](const Trial& trial) { return trial.mark == mark && *trial.job == *edited; });
        if (known != trials_.end()) return static_cast<std::size_t>(known - trials_.begin());
        trials_.push_back({mark, std::make_unique<const job::Job>(std::move(*edited)), {}});
        return trials_.size() - 1;
    }
    void run(const Context& context) {
        std::vector<Context> own(most_workers(), context);
        side_by_side(trials_.size(), [&](std::size_t i, std::size_t worker) {
            trials_[i].words = said_after(own[worker], *trials_[i].job, trials_[i].mark);
        });
    }
    [[nodiscard]] const Words& after(std::size_t trial) const { return trials_[trial].words; }

private:
    struct Trial {
        std::size_t mark;
        std::unique_ptr<const job::Job> job;
        Words words;
    };
    std::vector<Trial> trials_;
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

void own_up(const Context& context, std::vector<std::vector<Finding>>& findings) {
    Words before;
    Trials trials;
    std::vector<std::optional<std::size_t>> found; // for each fix in order
    const auto each_fix = [&](auto&& visit) {
        for (std::size_t mark = 0; mark < findings.size(); ++mark)
            for (Finding& finding : findings[mark])
                if (finding.severity != Severity::blocker) // nothing is worse
                    std::erase_if(finding.fixes, [&](Fix& fix) { return visit(mark, finding, fix); });
    };
    for (const std::vector<Finding>& of_mark : findings)
        add(before, of_mark);
    each_fix([&](std::size_t mark, const Finding&, const Fix& fix) {
        found.push_back(trials.add(context.job, mark, fix.edit));
        return false;
    });
    if (found.empty()) return;
    trials.run(context);
    auto next = found.begin();
    each_fix([&](std::size_t, const Finding& finding, Fix& fix) {
        const std::optional<std::size_t> trial = *next++;
        if (!trial) return true;
        const Brought besides = brought(before, trials.after(*trial), finding.severity);
        if (besides.blocks) return true;
        if (!besides.at_risk.empty()) fix.title += "; then at risk: " + some_of(besides.at_risk);
        return false;
    });
}

} // namespace touchmark::rules
