// SPDX-License-Identifier: MIT
#include "core/pipeline/evaluate.h"

#include "core/pipeline/bridged_drawing.h"
#include "core/pipeline/derivation.h"
#include "core/pipeline/footprint.h"
#include "core/pipeline/solid.h"

#include <algorithm>
#include <chrono>

namespace touchmark::pipeline {
namespace {

std::unexpected<Error> cancelled() {
    return fail(std::string(cancelled_code), "Cancelled.");
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

Error naming(const job::Mark& mark, Error error) {
    if (error.code != cancelled_code) error.message = "'" + mark.name + "': " + error.message;
    return error;
}

Result<const process::Process*> process_of(const job::Job& job, const Surroundings& around) {
    const auto process = std::ranges::find(*around.processes, job.process, &process::Process::id);
    if (process != around.processes->end()) return &*process;
    return fail("process.unknown", "There is no process '" + job.process + "'.",
                "Choose one of the profiles in resources/processes.");
}

Result<std::vector<imprint::Footprint>> footprints(Store& store, const job::Job& job, const Surroundings& around,
                                                   const process::Process& process, const Progress& progress) {
    std::vector<imprint::Footprint> all;
    for (const job::Mark& mark : job.marks) {
        const auto said = content::expanded(mark.content, job.variables, {0, around.day});
        if (!said) return std::unexpected(naming(mark, said.error()));
        const auto drawing = drawn(store, *said, around.fonts, progress);
        if (!drawing) return std::unexpected(naming(mark, drawing.error()));
        const auto map = mapped(store, around.part, mark, progress);
        if (!map) return std::unexpected(naming(mark, map.error()));
        const geometry::Affine place = surface::placement(mark.anchor.at, mark.anchor.turn);
        auto shape = *drawing;
        if (const auto wide = bridge_width(mark, process)) {
            const Digest key = content_key(*said, around.fonts.get());
            const auto held = bridged_drawing(store, key, *shape, *wide, progress);
            if (!held) return std::unexpected(naming(mark, held.error()));
            shape = (*held)->drawn;
        }
        all.push_back(footprint_of(mark, *map, geometry::transformed(shape->outline, place)));
    }
    return all;
}

/// Direct or general only when every mark is.
imprint::Route route_of(const std::vector<imprint::MarkResult>& marks) {
    if (marks.empty()) return imprint::Route::direct;
    const imprint::Route first = marks.front().route;
    return std::ranges::all_of(marks, [&](const auto& mark) { return mark.route == first; }) ? first
                                                                                             : imprint::Route::mixed;
}

} // namespace

struct Evaluator::Impl {
    Store store;
};

Evaluator::Evaluator() : impl_(std::make_unique<Impl>()) {}
Evaluator::~Evaluator() = default;

Result<std::shared_ptr<const Evaluation>> Evaluator::evaluate(const job::Job& job, const Surroundings& around,
                                                              const Progress& progress, Depth depth) {
    const auto process = process_of(job, around);
    if (!process) return std::unexpected(process.error());
    const auto derivation = Derivation::start(impl_->store, around, **process, job.pose, progress);
    if (!derivation) return std::unexpected(derivation.error());

    auto evaluation = std::make_shared<Evaluation>();
    evaluation->job = job;
    const auto stand = derivation->stand(job.pose);
    evaluation->placement = stand->placement;
    evaluation->height_mm = stand->height_mm;
    rules::Context context{evaluation->job,  *around.part,         **process,
                           *around.fonts,    derivation->meshes(), {},
                           stand->placement, stand->height_mm,     &derivation.value()};
    context.printing = depth == Depth::tried;
    const auto need = depth == Depth::quick ? rules::Need::wall : rules::Need::printed;
    for (std::size_t i = 0; i < job.marks.size(); ++i) {
        if (progress.cancelled()) return cancelled();
        std::vector<rules::MarkView> views = derivation->views(evaluation->job, i, need);
        const rules::MarkView& shown = views.front();
        evaluation->marks.push_back({shown.mark->id, shown.drawn, shown.map, shown.placed, shown.zone,
                                     shown.far ? std::optional(shown.far->farthest) : std::nullopt, shown.trouble,
                                     shown.printed});
        const auto widest = std::ranges::find(views, content::Worst::widest, &rules::MarkView::which);
        const auto judged = widest == views.end() ? views.begin() : widest;
        context.marks.push_back(std::move(*judged));
        views.erase(judged);
        context.other_units.push_back(std::move(views));
    }
    evaluation->findings = rules::judge(std::move(context));
    if (progress.cancelled()) return cancelled();
    return evaluation;
}

Result<std::shared_ptr<const Marked>> Evaluator::build(const job::Job& job, const Surroundings& around,
                                                       const Progress& progress, imprint::RouteChoice route) {
    const auto start = std::chrono::steady_clock::now();
    const auto process = process_of(job, around);
    if (!process) return std::unexpected(process.error());
    const auto marks = footprints(impl_->store, job, around, **process, progress);
    if (!marks) return std::unexpected(marks.error());
    auto marked = std::make_shared<Marked>();
    marked->seconds_outline = seconds_since(start);

    const auto imprint_start = std::chrono::steady_clock::now();
    const auto step = made_solid(impl_->store, around.part, *marks, route, progress);
    if (!step) return std::unexpected(step.error());
    marked->part = (*step)->part;
    marked->marks = (*step)->marks;
    marked->route = route_of((*step)->marks);
    marked->volume_before_mm3 = around.part->volume_mm3();
    marked->volume_after_mm3 = (*step)->part->volume_mm3();
    for (const imprint::MarkResult& mark : (*step)->marks) {
        marked->volume_change_mm3 += mark.volume_change_mm3;
        marked->filled_mm3 += mark.filled_mm3;
    }
    marked->seconds_imprint = seconds_since(imprint_start);
    return marked;
}

} // namespace touchmark::pipeline
