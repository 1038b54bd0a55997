// SPDX-License-Identifier: MIT
#include "app/session/session_impl.h"

#include "core/part/same_surface.h"

#include <unordered_map>

namespace touchmark::session {
namespace {

constexpr qint64 quiet_ms = 500; ///< work shorter than this is not announced

using EvaluationResult = Result<std::shared_ptr<const pipeline::Evaluation>>;

/// Whether a face of the marked part is what a mark left of another: on its surface and within its box.
bool left_of(const part::Face& face, const part::Face& before) {
    if (!part::same_surface(face, before)) return false;
    const Vec3 at = face.centroid, low = before.box.low, high = before.box.high;
    constexpr double slack = 1e-3;
    return at.x > low.x - slack && at.y > low.y - slack && at.z > low.z - slack && at.x < high.x + slack &&
           at.y < high.y + slack && at.z < high.z + slack;
}

std::vector<int> host_faces_of(const part::Part& marked, const part::Part& unmarked, const job::Job& job) {
    std::unordered_map<Digest, int> known;
    for (const part::Face& face : unmarked.faces())
        known.emplace(face.fingerprint.digest, face.index);
    const auto host_of = [&](const part::Face& face) {
        if (!face.mark.empty()) return -1;
        if (const auto same = known.find(face.fingerprint.digest); same != known.end()) return same->second;
        for (const job::Mark& mark : job.marks) {
            const auto at = static_cast<std::size_t>(mark.anchor.face);
            if (mark.anchor.face >= 0 && at < unmarked.faces().size() && left_of(face, unmarked.faces()[at]))
                return mark.anchor.face;
        }
        return part::find_face(unmarked, face.fingerprint, face.index).value_or(-1);
    };
    std::vector<int> hosts;
    hosts.reserve(marked.faces().size());
    for (const part::Face& face : marked.faces())
        hosts.push_back(host_of(face));
    return hosts;
}

struct Built {
    Result<std::shared_ptr<const pipeline::Marked>> marked;
    std::shared_ptr<const SolidMeshes> meshes;
};

Built build(pipeline::Evaluator& evaluator, const job::Job& job, const pipeline::Surroundings& around,
            const Progress& progress) {
    Built built{evaluator.build(job, around, progress), nullptr};
    if (!built.marked) return built;
    const part::Part& marked = *(*built.marked)->part;
    auto meshes = part::tessellate(marked, {}, progress);
    if (!meshes) {
        built.marked = std::unexpected(meshes.error());
        return built;
    }
    built.meshes =
        std::make_shared<const SolidMeshes>(SolidMeshes{*std::move(meshes), host_faces_of(marked, *around.part, job)});
    return built;
}

/// The same finding in another evaluation: same rule on the same mark.
std::optional<std::size_t> find_again(const rules::Finding& wanted, const std::vector<rules::Finding>& among) {
    for (std::size_t i = 0; i < among.size(); ++i)
        if (among[i].rule == wanted.rule && among[i].mark == wanted.mark) return i;
    return std::nullopt;
}

} // namespace

pipeline::Surroundings Session::Impl::surroundings() const {
    return {part, parts.fonts, parts.processes};
}

void Session::Impl::evaluate() {
    if (!part) return;
    printing.cancel();
    evaluating.run(tr("Checking the marks"), [this, evaluator = evaluator, job = job, around = surroundings(),
                                              by = process_digest()](const Progress& progress) {
        return [this, by, result = evaluator->evaluate(job, around, progress)] {
            judged_by = by;
            take_evaluation(result);
            print_marks(pipeline::Depth::printed);
        };
    });
    watch();
}

void Session::Impl::take_evaluation(EvaluationResult result) {
    if (!result) {
        if (result.error().code != cancelled_code) emit session.failed(result.error());
        return;
    }
    Changes changes = Change::evaluation;
    if (selected_finding && evaluation && *selected_finding < evaluation->findings.size()) {
        const auto again = find_again(evaluation->findings[*selected_finding], (*result)->findings);
        selected_finding = again;
        if (!again) changes |= Change::selection;
    }
    evaluation = *std::move(result);
    emit_changed(changes);
}

/// The quick evaluation once more, with every mark printed in simulation; then with the fixes that printing proves.
void Session::Impl::print_marks(pipeline::Depth depth) {
    if (gesture_start || !session.evaluation_is_current() || job.marks.empty()) return;
    if (!session.process().printing) return;
    const bool tries = depth == pipeline::Depth::tried;
    printing.run(tries ? tr("Printing fixes in simulation") : tr("Printing the marks in simulation"),
                 [this, tries, depth, evaluator = evaluator, job = job, around = surroundings(),
                  by = process_digest()](const Progress& progress) {
                     return [this, tries, job, by, result = evaluator->evaluate(job, around, progress, depth)] {
                         if (!result || job != this->job || by != process_digest()) return;
                         take_evaluation(result);
                         if (!tries) print_marks(pipeline::Depth::tried);
                     };
                 });
    watch();
}

void Session::Impl::build_solid() {
    if (!part || gesture_start || job.marks.empty()) return;
    solids.run(tr("Building the exact solid"),
               [this, evaluator = evaluator, job = job, around = surroundings()](const Progress& progress) {
                   return [this, job, built = build(*evaluator, job, around, progress)] {
                       if (job != this->job) return;
                       if (built.marked) {
                           solid = *built.marked;
                           solid_meshes = built.meshes;
                           solid_trouble.reset();
                       } else if (built.marked.error().code != cancelled_code) {
                           solid_trouble = built.marked.error();
                       }
                       emit_changed(Change::solid);
                   };
               });
    watch();
}

void Session::show_ghost(const job::Edit& edit) {
    if (!impl_->part) return;
    impl_->ghost_wanted = true;
    impl_->ghosts.run(tr("Trying the fix"),
                      [impl = impl_.get(), edit, evaluator = impl_->evaluator, job = impl_->job,
                       around = impl_->surroundings()](const Progress& progress) -> Lane::Deliver {
                          const Result<job::Job> next = edit(job);
                          if (!next) return {};
                          return [impl, job, result = evaluator->evaluate(*next, around, progress)] {
                              if (!result || !impl->ghost_wanted || job != impl->job) return;
                              impl->ghost = *result;
                              impl->emit_changed(Change::ghost);
                          };
                      });
}

void Session::hide_ghost() {
    impl_->ghost_wanted = false;
    impl_->ghosts.cancel();
    if (std::exchange(impl_->ghost, nullptr)) impl_->emit_changed(Change::ghost);
}

void Session::Impl::forget_results() {
    evaluating.cancel();
    printing.cancel();
    solids.cancel();
    ghosts.cancel();
    solid_timer.stop();
    evaluation.reset();
    ghost.reset();
    solid.reset();
    solid_meshes.reset();
    solid_trouble.reset();
    ghost_wanted = false;
    gesture_start.reset();
    selected_mark.clear();
    selected_finding.reset();
}

void Session::Impl::watch() {
    if (!poll_timer.isActive()) poll_timer.start();
}

Lane* Session::Impl::shown_lane() const {
    for (const Lane* lane : {&files, &solids, &evaluating, &printing})
        if (lane->busy() && lane->elapsed_ms() >= quiet_ms) return const_cast<Lane*>(lane);
    return nullptr;
}

void Session::Impl::poll() {
    std::optional<Activity> now;
    if (const Lane* lane = shown_lane()) now = Activity{lane->title(), lane->fraction(), true};
    const bool moved = now.has_value() != shown_activity.has_value() ||
                       (now && (now->text != shown_activity->text || now->fraction != shown_activity->fraction));
    shown_activity = now;
    if (!files.busy() && !solids.busy() && !evaluating.busy() && !printing.busy()) poll_timer.stop();
    if (moved) emit_changed(Change::activity);
}

void Session::cancel_activity() {
    Lane* lane = impl_->shown_lane();
    if (!lane && impl_->files.busy()) lane = &impl_->files;
    if (lane) lane->cancel();
}

} // namespace touchmark::session
