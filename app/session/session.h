// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/reader.h"
#include "core/pipeline/evaluate.h"
#include "core/process/profiles.h"

#include <QFlags>
#include <QObject>
#include <QString>
#include <QUndoStack>
#include <filesystem>
#include <memory>
#include <optional>

namespace touchmark::session {

/// What moved; views look at nothing else.
enum class Change : unsigned {
    part = 1,       ///< another part (or none); implies everything
    meshes = 2,     ///< the part's triangles arrived
    job = 4,        ///< marks, pose or process were edited
    evaluation = 8, ///< outlines, footprints and findings are new; a moment later again, with the marks printed
    solid = 16,     ///< the exact marked solid is new or out of date
    selection = 32, ///< another mark, or another finding, is selected
    ghost = 64,     ///< the preview of a fix came or went
    document = 128, ///< file name, modified or not
    activity = 256, ///< long work began, moved on or ended
};
Q_DECLARE_FLAGS(Changes, Change)

/// Long work that a person may watch and cancel.
struct Activity {
    QString text;
    double fraction = -1; ///< negative: unknown
    bool cancellable = true;
};

/// The triangles of the exact marked part, for the viewport.
struct SolidMeshes {
    plate::Meshes meshes;        ///< one a face of solid()->part
    std::vector<int> host_faces; ///< for each the face of the unmarked part that it belongs to; -1 for a mark's own
};

/// The open job: its history, what is selected, and what was computed from it in the background. Lives on the interface
/// thread and never computes there. A newer snapshot cancels an older one.
class Session : public QObject {
    Q_OBJECT

public:
    struct Parts {
        std::shared_ptr<part::Reader> reader;
        std::shared_ptr<const content::FontLibrary> fonts;
        std::shared_ptr<const std::vector<process::Process>> processes;
    };
    explicit Session(Parts parts, QObject* parent = nullptr);
    ~Session() override;

    // What there is.
    [[nodiscard]] const job::Job& job() const;         ///< as edited so far, a running gesture included
    [[nodiscard]] part::PartPtr part() const;          ///< null: nothing open
    [[nodiscard]] const plate::Meshes& meshes() const; ///< one a face; empty until they arrive
    [[nodiscard]] const process::Process& process() const;
    [[nodiscard]] std::shared_ptr<const std::vector<process::Process>> processes() const;
    /// Other profiles than so far; the marks are judged anew where the job's own is another one now. `left_out`: why a
    /// profile that a job may name is not among them.
    void set_processes(std::shared_ptr<const std::vector<process::Process>> processes,
                       std::vector<process::LeftOut> left_out = {});
    [[nodiscard]] std::shared_ptr<const content::FontLibrary> fonts() const;
    [[nodiscard]] std::shared_ptr<part::Reader> reader() const;
    [[nodiscard]] std::shared_ptr<const pipeline::Evaluation>
    evaluation() const; ///< the newest there is; may lag the job by a frame
    [[nodiscard]] bool evaluation_is_current() const;
    /// Current, and the marks have been printed in simulation: nothing is under way that would bring another one.
    [[nodiscard]] bool evaluation_is_final() const;
    /// For work of one's own in the background: what evaluations are made with, and against.
    [[nodiscard]] std::shared_ptr<pipeline::Evaluator> evaluator() const;
    [[nodiscard]] pipeline::Surroundings surroundings() const;
    [[nodiscard]] std::shared_ptr<const pipeline::Marked> solid() const;   ///< null while out of date
    [[nodiscard]] std::shared_ptr<const SolidMeshes> solid_meshes() const; ///< there whenever solid() is
    [[nodiscard]] std::optional<Error> solid_trouble() const;              ///< why there is no exact solid
    [[nodiscard]] QString selected_mark() const;
    [[nodiscard]] std::optional<std::size_t> selected_finding() const; ///< index into evaluation()->findings
    [[nodiscard]] std::shared_ptr<const pipeline::Evaluation> ghost() const;
    [[nodiscard]] std::optional<Activity> activity() const;
    [[nodiscard]] std::filesystem::path job_file() const; ///< empty: never saved
    [[nodiscard]] bool modified() const;
    [[nodiscard]] QUndoStack& history();

    // Files. All asynchronous except save_job (small). Results arrive by opened(), saved(), failed().
    /// A STEP part (a new job) or a job file, by content.
    void open(const std::filesystem::path& file);
    void close();
    [[nodiscard]] Status save_job(const std::filesystem::path& file);
    void save_step(const std::filesystem::path& file);
    void cancel_activity();

    // Edits. An edit that changes nothing leaves no undo step.
    Status edit(const QString& title, const job::Edit& edit);
    /// Steps with the same non-empty key that follow each other within a second become one (typing, wheel, arrow keys).
    Status edit_merged(const QString& title, const QString& key, const job::Edit& edit);
    /// A drag: every gesture() starts from the job as it was at begin_gesture(); the whole is one undo step.
    void begin_gesture(const QString& title);
    Status gesture(const job::Edit& edit);
    void end_gesture();
    void abandon_gesture();
    [[nodiscard]] bool in_gesture() const;

    void select_mark(const QString& mark);
    void select_finding(std::optional<std::size_t> finding); ///< also selects its mark; views fly there
    /// Hovering a fix: what the job would be.
    void show_ghost(const job::Edit& edit);
    void hide_ghost();

signals:
    void changed(touchmark::session::Changes changes);
    void opened();
    void saved(const QString& file, const QString& summary);
    void failed(const touchmark::Error& error);
    /// Something to know that stopped nothing: the part changed since its marks were placed, a mark lost its face.
    void noticed(const QString& message, const QString& hint);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};
Q_DECLARE_OPERATORS_FOR_FLAGS(Changes)

} // namespace touchmark::session
