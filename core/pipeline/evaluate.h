// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"
#include "core/rules/rule.h"

namespace touchmark::pipeline {

/// What a job is evaluated against; immutable and shared.
struct Surroundings {
    part::PartPtr part;
    std::shared_ptr<const content::FontLibrary> fonts;
    std::shared_ptr<const std::vector<process::Process>> processes;
    content::Day day = content::today(); ///< on which the parts are made, for dates among the variables
};

/// What is derived from one mark for people to look at.
struct MarkEvaluation {
    std::string mark;
    std::shared_ptr<const content::Drawn> drawn; ///< null when the content cannot be drawn
    surface::FaceMapPtr map;                     ///< null when the face is gone or of a kind that has no map
    geometry::Outline placed;
    Zone zone = Zone::side_wall;
    std::optional<double> wall_mm; ///< Mode::through: how deep it goes
    std::optional<Error> trouble;  ///< why drawn or map is missing
    /// As the first unit comes out in simulation; null where it is not known. After Depth::quick possibly the print of
    /// the mark at another place on a face of its zone.
    std::shared_ptr<const print::PrintedMark> printed;
};

/// How far an evaluation goes.
enum class Depth {
    quick,   ///< what a person waits for; of prints only those that are known
    printed, ///< every mark is printed in simulation
    tried,   ///< and fixes are tried by their print: seconds
};

/// Everything fast that follows from a job: outlines, footprints, findings. The exact solid is build()'s.
struct Evaluation {
    job::Job job;
    std::vector<MarkEvaluation> marks; ///< in the job's order
    std::vector<rules::Finding> findings;
    plate::Placement placement;
    double height_mm = 0;
};

struct Marked {
    part::PartPtr part;
    std::vector<imprint::MarkResult> marks;
    double volume_before_mm3 = 0, volume_after_mm3 = 0, volume_change_mm3 = 0;
    double filled_mm3 = 0; ///< of the bodies of inlays, which the change leaves out
    imprint::Route route = imprint::Route::direct;
    double seconds_outline = 0, seconds_imprint = 0;

    /// What a file of it has to hold, by the marks' own figures.
    [[nodiscard]] double volume_to_hold_mm3() const { return volume_before_mm3 + volume_change_mm3 + filled_mm3; }
};

/// Evaluates jobs; remembers results by the content they were computed from, so an edit recomputes only what it touched
/// and a drag recomputes only placement. Safe to share between threads; two evaluations may run at once.
class Evaluator {
public:
    Evaluator();
    ~Evaluator();
    /// Errors: "process.unknown", "cancelled". What is wrong with a mark is a finding, not an error.
    [[nodiscard]] Result<std::shared_ptr<const Evaluation>>
    evaluate(const job::Job& job, const Surroundings& around, const Progress& progress, Depth depth = Depth::quick);
    /// The exact marked solid. Errors: those of imprint() and draw(), naming the mark.
    [[nodiscard]] Result<std::shared_ptr<const Marked>>
    build(const job::Job& job, const Surroundings& around, const Progress& progress,
          imprint::RouteChoice route = imprint::RouteChoice::automatic);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::pipeline
