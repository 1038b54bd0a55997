// SPDX-License-Identifier: MIT
#include "core/pipeline/compare.h"

#include "core/pipeline/layers.h"
#include "core/rules/fixes.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace touchmark::pipeline {
namespace {

constexpr std::size_t most_mapped = 60; // faces looked at closely

/// A place for the mark on another face.
struct Place {
    job::Anchor anchor;
    Zone zone = Zone::side_wall;
};

std::string_view made(Mode mode) {
    switch (mode) {
    case Mode::engrave:
        return "Cut";
    case Mode::raise:
        return "Raised";
    case Mode::hidden:
        return "Hidden";
    case Mode::inlay:
        return "Inlaid";
    case Mode::through:
        return "Cut through";
    }
    return "Cut";
}

std::string lower_title(Zone zone) {
    std::string title(title_of(zone));
    title.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(title.front())));
    return title;
}

class Comparison {
public:
    Comparison(Evaluator& evaluator, const job::Job& job, std::size_t index, const Surroundings& around,
               const process::Process& process, const CompareOptions& options, const Progress& progress)
        : evaluator_(evaluator), job_(job), index_(index), around_(around), process_(process), options_(options),
          progress_(progress) {}

    Result<std::vector<Alternative>> run() {
        const auto now = evaluator_.evaluate(job_, around_, progress_);
        if (!now) return std::unexpected(now.error());
        now_ = *now;
        std::vector<std::pair<Mode, std::optional<Place>>> trials{{mark().mode, std::nullopt}};
        for (const Mode mode : options_.modes)
            if (mode != mark().mode) trials.emplace_back(mode, std::nullopt);
        for (const Place& place : places())
            for (const Mode mode : options_.modes)
                trials.emplace_back(mode, place);
        std::vector<Alternative> out;
        for (const auto& [mode, place] : trials) {
            progress_.report(static_cast<double>(out.size()) / static_cast<double>(trials.size()), "Comparing");
            auto alternative = tried(mode, place);
            if (!alternative) return std::unexpected(alternative.error());
            out.push_back(*std::move(alternative));
        }
        return out;
    }

private:
    [[nodiscard]] const job::Mark& mark() const { return job_.marks[index_]; }

    /// The largest flat faces that the mark fits, so many a zone.
    [[nodiscard]] std::vector<Place> places() const {
        const MarkEvaluation& own = now_->marks[index_];
        if (!own.drawn) return {};
        const Box2 box = own.drawn->extent;
        std::vector<const part::Face*> faces;
        for (const part::Face& face : around_.part->faces())
            if (face.kind == part::FaceKind::plane && face.index != mark().anchor.face &&
                face.area_mm2 > box.width() * box.height() && face.mark.empty() &&
                around_.part->bodies()[static_cast<std::size_t>(face.body)].solid)
                faces.push_back(&face);
        std::ranges::stable_sort(faces, std::ranges::greater(), &part::Face::area_mm2);
        std::vector<Place> out;
        std::map<Zone, std::size_t> taken;
        std::size_t mapped = 0;
        for (const part::Face* face : faces) {
            if (progress_.cancelled() || mapped == most_mapped) break;
            const Zone zone = plate::zone_at(now_->placement, face->centroid, face->frame.z, process_);
            std::size_t& count = taken[zone];
            if (count >= (zone == Zone::side_wall ? options_.side_walls : options_.of_other_zones)) continue;
            ++mapped;
            if (const auto turn = turn_that_fits(*face, box, zone)) {
                out.push_back({{face->index, face->fingerprint, {0, 0}, *turn}, zone});
                ++count;
            }
        }
        return out;
    }

    [[nodiscard]] std::optional<Degrees> turn_that_fits(const part::Face& face, Box2 box, Zone zone) const {
        const auto map = surface::map_face(*around_.part, face.index);
        if (!map) return std::nullopt;
        const process::Limit* limit = process_.limit("edge_margin", mark().mode, zone);
        const double margin = 2 * (limit ? limit->comfortable.value : 0);
        const Vec2 room = (*map)->rectangle();
        if (box.width() + margin <= room.x && box.height() + margin <= room.y) return Degrees(0);
        if (box.height() + margin <= room.x && box.width() + margin <= room.y) return Degrees(90);
        return std::nullopt;
    }

    [[nodiscard]] job::Edit edit_of(Mode mode, const std::optional<Place>& place) const {
        job::Edit edit = rules::edit_mode(mark().id, mode);
        return place ? rules::then(std::move(edit), rules::edit_anchor(mark().id, place->anchor)) : edit;
    }

    Result<Alternative> tried(Mode mode, const std::optional<Place>& place) const {
        Alternative out;
        out.mode = mode;
        out.as_it_is = !place && mode == mark().mode;
        out.edit = edit_of(mode, place);
        const auto edited = out.edit(job_);
        if (!edited) return std::unexpected(edited.error());
        const auto evaluation = evaluator_.evaluate(*edited, around_, progress_);
        if (!evaluation) return std::unexpected(evaluation.error());
        const MarkEvaluation& own = (*evaluation)->marks[index_];
        out.zone = own.zone;
        out.face = edited->marks[index_].anchor.face;
        out.title = std::string(made(mode)) + ", face " + std::to_string(out.face) + " (" + lower_title(out.zone) + ")";
        take_findings(**evaluation, out);
        if (const Status done = take_print(**evaluation, out); !done) return std::unexpected(done.error());
        return out;
    }

    void take_findings(const Evaluation& evaluation, Alternative& out) const {
        const auto on_others = [&](const rules::Finding& finding) {
            return std::ranges::count_if(now_->findings, [&](const rules::Finding& before) {
                return before.rule == finding.rule && before.mark == finding.mark &&
                       before.severity <= finding.severity;
            });
        };
        for (const rules::Finding& finding : evaluation.findings) {
            if (finding.mark.empty() || (finding.mark != mark().id && on_others(finding) > 0)) continue;
            if (out.severity && *out.severity <= finding.severity) continue;
            out.severity = finding.severity;
            out.finding = finding.message;
        }
    }

    Status take_print(const Evaluation& evaluation, Alternative& out) const {
        const auto printed = print_mark(evaluation, index_, process_, progress_);
        const auto layers = printed ? print_layers(evaluation, index_, process_, progress_, print::Want::counts)
                                    : Result<print::Layers>(std::unexpected(printed.error()));
        if (!layers) {
            if (layers.error().code == cancelled_code || layers.error().code == "print.no_figures")
                return std::unexpected(layers.error());
            out.trouble = layers.error();
            return {};
        }
        out.verdict = printed->verdict();
        out.figure = printed->modules ? 1 - printed->modules->share() : 1;
        if (const print::PrintedPiece* worst = printed->worst(); worst && !printed->modules) {
            out.figure = worst->fidelity.figure();
            out.worst_piece = worst->label;
        }
        out.extra = layers->extra;
        return {};
    }

    Evaluator& evaluator_;
    const job::Job& job_;
    std::size_t index_;
    const Surroundings& around_;
    const process::Process& process_;
    const CompareOptions& options_;
    const Progress& progress_;
    std::shared_ptr<const Evaluation> now_;
};

} // namespace

Alternative::Standing Alternative::standing() const {
    if (severity == rules::Severity::blocker) return Standing::will_not_print;
    if (verdict == print::Verdict::lost) return Standing::lost;
    const bool clean = verdict == print::Verdict::reads && severity != rules::Severity::warning;
    return clean ? Standing::clean : Standing::at_risk;
}

void sort_alternatives(std::vector<Alternative>& alternatives, const run::Rates& rates, std::int64_t units) {
    for (Alternative& alternative : alternatives)
        alternative.forecast = run::forecast(alternative.extra, rates, units);
    std::ranges::stable_sort(alternatives, {}, [](const Alternative& one) {
        return std::tuple(one.trouble.has_value(), one.standing(), one.forecast.cost().value_or(0),
                          one.forecast.rejects, one.forecast.seconds);
    });
}

Result<std::vector<Alternative>> compare(Evaluator& evaluator, const job::Job& job, std::string_view mark,
                                         const Surroundings& around, const run::Rates& rates, std::int64_t units,
                                         const CompareOptions& options, const Progress& progress) {
    const auto own = std::ranges::find(job.marks, mark, &job::Mark::id);
    if (own == job.marks.end()) return fail("job.no_mark", "There is no mark '" + std::string(mark) + "' any more.");
    const auto process = std::ranges::find(*around.processes, job.process, &process::Process::id);
    if (process == around.processes->end())
        return fail("process.unknown", "There is no process '" + job.process + "'.",
                    "Choose one of the profiles in resources/processes.");
    const auto index = static_cast<std::size_t>(own - job.marks.begin());
    auto out = Comparison(evaluator, job, index, around, *process, options, progress).run();
    if (out) sort_alternatives(*out, rates, units);
    return out;
}

} // namespace touchmark::pipeline
