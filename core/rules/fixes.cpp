// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"

#include "core/base/number_text.h"
#include "core/job/parameter.h"
#include "core/rules/narrow.h"

#include <algorithm>
#include <cmath>

namespace touchmark::rules {
namespace {

using Change = std::function<void(job::Mark&)>;

job::Edit edit_mark(std::string mark, Change change) {
    return [mark = std::move(mark), change = std::move(change)](const job::Job& job) -> Result<job::Job> {
        job::Job edited = job;
        const auto found = std::ranges::find(edited.marks, mark, &job::Mark::id);
        if (found == edited.marks.end()) return fail("job.no_mark", "There is no mark '" + mark + "' any more.");
        change(*found);
        return edited;
    };
}

double least_margin(const Context& context, const MarkView& view) {
    const process::Limit* limit = context.process.limit("edge_margin", view.mark->mode, view.zone);
    return limit ? limit->hard.value : 0;
}

/// Whether the mark would run into another one on its face.
bool meets_others(const Context& context, const MarkView& view, std::size_t mark) {
    for (std::size_t i = 0; i < context.marks.size(); ++i)
        if (i != mark && context.marks[i].map && view.map && context.marks[i].map->face() == view.map->face() &&
            context.marks[i].placed_box.meets(view.placed_box))
            return true;
    return false;
}

/// Cap height or module, and its range.
const job::Parameter& size_parameter(const job::Mark& mark) {
    return *job::parameter(job::size_key(mark.content));
}

} // namespace

std::optional<Trial> Fixer::attempt(const job::Edit& edit, Need need) const {
    if (!context_.what_if) return std::nullopt;
    auto edited = edit(context_.job);
    if (!edited || *edited == context_.job) return std::nullopt;
    Trial trial;
    trial.job = std::make_unique<const job::Job>(std::move(*edited));
    std::vector<MarkView> views = context_.what_if->views(*trial.job, mark_, need);
    for (const MarkView& one : views) {
        // What no size or place mends, an empty cell or too long a value, is no reason against another fix.
        const bool beyond = one.which == content::Worst::broken || one.which == content::Worst::longest;
        if (one.trouble && beyond && one.which != view().which) continue;
        if (one.trouble) return std::nullopt;
        for (const Finding& finding : assess_(context_, one, mark_))
            trial.severity = std::min(trial.severity.value_or(finding.severity), finding.severity);
    }
    const auto same_unit = std::ranges::find(views, view().which, &MarkView::which);
    trial.view = std::move(same_unit == views.end() ? views.front() : *same_unit);
    return trial;
}

bool Fixer::offer(Finding& finding, Fix fix, Need need) const {
    const auto trial = attempt(fix.edit, need);
    if (!trial || !helps(*trial)) return false;
    finding.fixes.push_back(std::move(fix));
    return true;
}

job::Edit edit_text(std::string mark, std::function<void(content::Text&)> change) {
    return edit_mark(std::move(mark), [change = std::move(change)](job::Mark& edited) {
        if (auto* text = std::get_if<content::Text>(&edited.content)) change(*text);
    });
}
job::Edit edit_depth(std::string mark, double depth_mm) {
    return edit_mark(std::move(mark), [=](job::Mark& edited) { edited.depth = Mm(depth_mm); });
}
job::Edit edit_cover(std::string mark, double cover_mm) {
    return [mark = std::move(mark), cover_mm](const job::Job& job) {
        return job::set_parameter(job, mark, "cover", cover_mm);
    };
}

job::Edit edit_bridges(std::string mark) {
    return edit_mark(std::move(mark), [](job::Mark& edited) { edited.bridges = job::Bridging::automatic; });
}
job::Edit edit_mode(std::string mark, Mode mode) {
    return edit_mark(std::move(mark), [=](job::Mark& edited) { edited.mode = mode; });
}
job::Edit edit_anchor(std::string mark, job::Anchor anchor) {
    return edit_mark(std::move(mark), [=](job::Mark& edited) { edited.anchor = anchor; });
}
job::Edit edit_position(std::string mark, Vec2 at) {
    return edit_mark(std::move(mark), [=](job::Mark& edited) { edited.anchor.at = at; });
}
job::Edit edit_size(std::string mark, double size_mm) {
    return edit_mark(std::move(mark), [=](job::Mark& edited) {
        edited.content = content::with_size(std::move(edited.content), Mm(size_mm));
    });
}
job::Edit edit_parameter(std::string mark, std::string key, job::Value value) {
    return [mark = std::move(mark), key = std::move(key), value = std::move(value)](const job::Job& job) {
        return job::set_parameter(job, mark, key, value);
    };
}

std::string size_change(const job::Mark& mark, double size_mm) {
    return std::string(size_parameter(mark).title) + " " + change_of(content::size_of(mark.content).value, size_mm);
}

job::Edit then(job::Edit first, job::Edit second) {
    return [first = std::move(first), second = std::move(second)](const job::Job& job) -> Result<job::Job> {
        auto half = first(job);
        return half ? second(*half) : half;
    };
}

// Divided by the whole number 1 / step, so that the result is the double that a person's "0.3" reads as.
double rounded_up(double value, double step) {
    return std::ceil(value / step - 1e-6) / std::round(1 / step);
}
double rounded_down(double value, double step) {
    return std::floor(value / step + 1e-6) / std::round(1 / step);
}

double wanted_margin(const Context& context, const MarkView& view) {
    const process::Limit* limit = context.process.limit("edge_margin", view.mark->mode, view.zone);
    return limit ? limit->comfortable.value : 0;
}

namespace {

constexpr double height_step = 0.1;

/// The smallest clean height near `height`; nullopt when none is. Widths grow in proportion to the height, but letter
/// spacing is absolute, and small lettering is measured less exactly: the first guess may be too low or too high.
std::optional<double> clean_height(const Fixer& fixer, double height, Assess also) {
    const auto clean = [&](double at) {
        const auto trial = fixer.attempt(edit_size(fixer.view().mark->id, at), Need::widths);
        return trial && !trial->severity && (!also || also(fixer.context(), trial->view, fixer.index()).empty());
    };
    constexpr int tries = 6;
    int left = tries;
    while (!clean(height)) {
        if (--left == 0) return std::nullopt;
        height += height_step;
    }
    for (left = left == tries ? tries : 0; left > 0 && clean(height - height_step); --left)
        height -= height_step;
    return rounded_up(height, height_step);
}

} // namespace

bool offer_height(const Fixer& fixer, Finding& finding, double height) {
    const Context& context = fixer.context();
    const MarkView& view = fixer.view();
    const std::string& mark = view.mark->id;
    Fix fix{std::string(size_parameter(*view.mark).key), size_change(*view.mark, height), edit_size(mark, height)};
    if (view.map) {
        const auto grown = fixer.attempt(fix.edit, Need::placed);
        if (!grown) return false;
        // No closer to an edge than it is or may be; when it has to move for that, then comfortably.
        const double enough = std::max(0.0, std::min(view.margin.distance, least_margin(context, view)));
        auto shift = context.what_if->shift_inward(grown->view, enough);
        if (!shift) return false;
        if (length(*shift) > same) {
            if (const auto roomy = context.what_if->shift_inward(grown->view, wanted_margin(context, view)))
                shift = roomy;
            fix.title += ", moved " + number_text(length(*shift)) + " mm inward";
            fix.edit = then(fix.edit, edit_position(mark, view.mark->anchor.at + *shift));
            // There the face may lie otherwise.
            const auto moved = fixer.attempt(fix.edit, Need::widths);
            if (!moved || !fixer.helps(*moved)) return false;
        }
    }
    finding.fixes.push_back(std::move(fix));
    return true;
}

void offer_size(const Fixer& fixer, Finding& finding, double factor) {
    if (!fixer.context().what_if) return;
    const job::Mark& mark = *fixer.view().mark;
    const double now = content::size_of(mark.content).value, most = size_parameter(mark).most;
    const bool strokes = finding.rule == "stroke_width";
    const Assess other = strokes ? &assess_gap_width : &assess_stroke_width;
    const double both =
        std::max(factor, clean_factor(fixer.context(), fixer.view(), strokes ? "gap_width" : "stroke_width"));
    for (const auto& [wanted, also] : {std::pair{both, other}, std::pair{factor, Assess(nullptr)}}) {
        const double first = rounded_up(now * wanted, height_step);
        if (!std::isfinite(first) || first > most) continue;
        const auto height = clean_height(fixer, first, also);
        if (height && *height <= most && offer_height(fixer, finding, *height)) return;
    }
}

void offer_side_wall_face(const Fixer& fixer, Finding& finding) {
    const Context& context = fixer.context();
    const MarkView& view = fixer.view();
    if (!context.what_if) return;
    const double area = view.drawn ? view.drawn->extent.width() * view.drawn->extent.height() : 0;
    std::vector<const part::Face*> walls;
    for (const part::Face& face : context.part.faces())
        if (face.kind == part::FaceKind::plane && face.index != view.mark->anchor.face && face.area_mm2 > area &&
            context.part.bodies()[static_cast<std::size_t>(face.body)].solid && face.mark.empty() &&
            !job::kept_clear(context.job, face.index) &&
            plate::zone_at(context.placement, face.centroid, face.frame.z, context.process) == Zone::side_wall)
            walls.push_back(&face);
    std::ranges::stable_sort(walls, std::ranges::greater(), &part::Face::area_mm2);
    constexpr std::size_t most_tried = 5;
    if (walls.size() > most_tried) walls.resize(most_tried);
    for (const part::Face* wall : walls) {
        Fix fix{"side_wall_face", "Move to face " + std::to_string(wall->index) + ", a side wall",
                edit_anchor(view.mark->id, {wall->index, wall->fingerprint, {0, 0}, Degrees(0)})};
        // What is behind it is looked for only where it has its place.
        const auto placed = fixer.attempt(fix.edit, Need::place);
        if (!placed || !fixer.helps(*placed) || placed->view.zone != Zone::side_wall) continue;
        if (placed->view.margin.distance < wanted_margin(context, placed->view) - same) continue;
        if (meets_others(context, placed->view, fixer.index())) continue;
        const auto trial = fixer.attempt(fix.edit, Need::wall);
        if (!trial || !fixer.helps(*trial)) continue;
        finding.fixes.push_back(std::move(fix));
        return;
    }
}

void offer_stand(const Fixer& fixer, Finding& finding) {
    const Context& context = fixer.context();
    const MarkView& view = fixer.view();
    if (!context.what_if || !view.map) return;
    for (const plate::Standing& standing : context.what_if->standings(view.map->normal(view.mark->anchor.at))) {
        Fix fix{"stand",
                "Stand on face " + std::to_string(standing.face) + ": height " + short_number(context.height_mm) +
                    " → " + short_number(standing.height_mm) + " mm",
                [pose = standing.pose](const job::Job& job) { return job::set_pose(job, pose); }};
        if (fixer.offer(finding, std::move(fix), Need::widths)) return;
    }
}

namespace {

bool offer_inward(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const double comfortable = wanted_margin(fixer.context(), view), least = least_margin(fixer.context(), view);
    for (const double wanted : {comfortable, least, 0.0}) {
        const auto shift = fixer.context().what_if->shift_inward(view, wanted);
        if (!shift) continue;
        const Vec2 at = view.mark->anchor.at + *shift;
        if (fixer.offer(
                finding,
                {"move_inward", "Move " + number_text(length(*shift)) + " mm inward", edit_position(view.mark->id, at)},
                Need::place))
            return true;
    }
    return false;
}

bool offer_quarter_turn(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    job::Anchor anchor = view.mark->anchor;
    anchor.at = {0, 0};
    anchor.turn = Degrees(anchor.turn.value > 90 ? anchor.turn.value - 270 : anchor.turn.value + 90);
    return fixer.offer(finding, {"turn", "Turn by 90°, in the middle of the face", edit_anchor(view.mark->id, anchor)},
                       Need::place);
}

bool offer_smaller(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const Box2 box = view.placed_box;
    const Vec2 room = view.map->rectangle();
    const double now = content::size_of(view.mark->content).value, least = size_parameter(*view.mark).least;
    for (const double margin : {wanted_margin(fixer.context(), view), least_margin(fixer.context(), view)}) {
        const double factor = std::min((room.x - 2 * margin) / box.width(), (room.y - 2 * margin) / box.height());
        double height = rounded_down(now * std::min(factor, 1.0), height_step);
        for (int tries = 3; tries > 0 && height >= least; --tries, height -= height_step) {
            if (height >= now - same) continue;
            Fix fix{"smaller", size_change(*view.mark, height) + ", in the middle of the face",
                    then(edit_size(view.mark->id, height), edit_position(view.mark->id, {0, 0}))};
            if (fixer.offer(finding, std::move(fix), Need::place)) return true;
        }
    }
    return false;
}

} // namespace

void offer_fit(const Fixer& fixer, Finding& finding) {
    if (!fixer.context().what_if || !fixer.view().map) return;
    if (offer_inward(fixer, finding)) return;
    offer_quarter_turn(fixer, finding);
    offer_smaller(fixer, finding);
    offer_side_wall_face(fixer, finding);
}

} // namespace touchmark::rules
