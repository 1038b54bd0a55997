// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/parameter.h"
#include "core/rules/support.h"

#include <algorithm>
#include <functional>
#include <iterator>
#include <memory>

namespace touchmark::rules {

/// A rule without its fixes: what it says about `view` in the place of context.marks[mark].
using Assess = std::vector<Finding> (*)(const Context& context, const MarkView& view, std::size_t mark);

/// What two rules, or two sides of one, say together: for a fix of the one that must not bring the other.
template <Assess one, Assess other>
std::vector<Finding> assess_together(const Context& context, const MarkView& view, std::size_t mark) {
    std::vector<Finding> findings = one(context, view, mark);
    std::ranges::move(other(context, view, mark), std::back_inserter(findings));
    return findings;
}

/// A job as an edit would leave it, with the mark as it would be then.
struct Trial {
    std::unique_ptr<const job::Job> job;
    MarkView view;
    std::optional<Severity> severity; ///< the rule's worst word on it; nullopt: silent
};

/// Tries edits against one rule on one mark and collects those that help.
class Fixer {
public:
    Fixer(const Context& context, std::size_t mark, Assess assess, Severity before)
        : context_(context), mark_(mark), assess_(assess), before_(before) {}

    /// nullopt where the edit is refused or there is nothing to ask.
    [[nodiscard]] std::optional<Trial> attempt(const job::Edit& edit, Need need) const;
    [[nodiscard]] bool helps(const Trial& trial) const { return !trial.severity || *trial.severity > before_; }
    /// Appends the fix when it silences the rule or makes its word less severe; says whether it did.
    bool offer(Finding& finding, Fix fix, Need need) const;

    [[nodiscard]] const Context& context() const { return context_; }
    [[nodiscard]] std::size_t index() const { return mark_; }
    [[nodiscard]] const MarkView& view() const { return context_.marks[mark_]; }

private:
    const Context& context_;
    std::size_t mark_;
    Assess assess_;
    Severity before_;
};

// Edits that change one value of the mark as it is when they are applied.
[[nodiscard]] job::Edit edit_text(std::string mark, std::function<void(content::Text&)> change);
[[nodiscard]] job::Edit edit_depth(std::string mark, double depth_mm);
[[nodiscard]] job::Edit edit_cover(std::string mark, double cover_mm);
[[nodiscard]] job::Edit edit_bridges(std::string mark); ///< adds them
[[nodiscard]] job::Edit edit_mode(std::string mark, Mode mode);
[[nodiscard]] job::Edit edit_anchor(std::string mark, job::Anchor anchor);
[[nodiscard]] job::Edit edit_position(std::string mark, Vec2 at);
[[nodiscard]] job::Edit edit_size(std::string mark, double size_mm); ///< see content::with_size
[[nodiscard]] job::Edit edit_parameter(std::string mark, std::string key, job::Value value);
[[nodiscard]] job::Edit then(job::Edit first, job::Edit second);

/// Rounded up (down) to the next multiple of `step`; a hair beyond a multiple counts as on it.
/// REQUIRES: 1 / step is whole.
[[nodiscard]] double rounded_up(double value, double step);
[[nodiscard]] double rounded_down(double value, double step);

/// The margin that a fix aims for: the comfortable one where the process names one, else the edge itself.
[[nodiscard]] double wanted_margin(const Context& context, const MarkView& view);

/// "Cap height 4.2 → 5.6 mm", or the module of a code.
[[nodiscard]] std::string size_change(const job::Mark& mark, double size_mm);

// The fixes that several rules share.
/// The smallest size (cap height or module, in steps of 0.1 mm) at which strokes and gaps are both clean, else at which
/// this rule is; moved inward where it would otherwise hang over an edge. Not offered where it cannot fit the face.
void offer_size(const Fixer& fixer, Finding& finding, double factor);
/// Appends the fix of this size, moved inward where it would hang over an edge; false where it has no place.
bool offer_height(const Fixer& fixer, Finding& finding, double height);
/// The face's middle on the largest flat side wall that holds the mark.
void offer_side_wall_face(const Fixer& fixer, Finding& finding);
/// Turns the part so that the mark's face becomes a side wall.
void offer_stand(const Fixer& fixer, Finding& finding);
/// Inward, else turned by a quarter, else smaller in the middle of the face.
void offer_fit(const Fixer& fixer, Finding& finding);

} // namespace touchmark::rules
