// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/lane.h"
#include "app/session/session.h"
#include "core/deliver/step.h"

#include <QThreadPool>
#include <QTimer>

namespace touchmark::session {

inline QString text(std::string_view utf8) {
    return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}
inline QString name_of(const std::filesystem::path& path) {
    return text(path.string());
}

/// What reading a part or a job brings.
struct Opened {
    job::Job job;
    part::PartPtr part;
    plate::Meshes meshes;
    std::filesystem::path job_file;
    bool part_changed = false; ///< since the marks were placed
    std::vector<std::string> lost;
    std::size_t lost_faces = 0; ///< that were kept clear
};

struct Session::Impl {
    Impl(Session& owner, Parts from);

    // session.cpp
    void set_job(job::Job next);
    void push(const QString& title, const QString& key, job::Job before, job::Job after);
    void keep_selection(const job::Job& before);
    void emit_changed(Changes changes) { emit session.changed(changes); }

    [[nodiscard]] Digest process_digest() const;

    // session_work.cpp
    [[nodiscard]] pipeline::Surroundings surroundings() const;
    void evaluate();
    void take_evaluation(Result<std::shared_ptr<const pipeline::Evaluation>> result);
    void print_marks(pipeline::Depth depth);
    void build_solid();
    void watch();
    void poll();
    [[nodiscard]] Lane* shown_lane() const;
    void forget_results();

    // session_files.cpp
    void take_opened(Opened opened);

    Session& session;
    Parts parts;
    std::shared_ptr<pipeline::Evaluator> evaluator;
    std::shared_ptr<deliver::StepStore> step_store = std::make_shared<deliver::StepStore>();
    QThreadPool pool;
    Lane files, evaluating, printing, solids, ghosts;
    QTimer solid_timer, poll_timer;

    job::Job job;
    part::PartPtr part;
    plate::Meshes meshes;
    std::filesystem::path job_file;
    QUndoStack history;

    std::shared_ptr<const pipeline::Evaluation> evaluation, ghost;
    std::optional<Digest> judged_by; ///< the process of `evaluation`
    std::vector<process::LeftOut> left_out;
    std::shared_ptr<const pipeline::Marked> solid;
    std::shared_ptr<const SolidMeshes> solid_meshes;
    std::optional<Error> solid_trouble;
    bool ghost_wanted = false;

    QString selected_mark;
    std::optional<std::size_t> selected_finding;

    std::optional<job::Job> gesture_start;
    QString gesture_title;
    std::optional<Activity> shown_activity;
};

} // namespace touchmark::session
