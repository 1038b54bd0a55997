// SPDX-License-Identifier: MIT
#include "app/session/session_impl.h"

#include <QUndoCommand>

namespace touchmark::session {
namespace {

constexpr qint64 merge_within_ms = 1000;
constexpr int merging_id = 1;

/// One edit: the job before and after. Snapshots are cheap; the heavy geometry is not in the job.
class JobCommand : public QUndoCommand {
public:
    using Apply = std::function<void(const job::Job&)>;
    JobCommand(const QString& title, QString key, job::Job before, job::Job after, Apply apply)
        : QUndoCommand(title), key_(std::move(key)), before_(std::move(before)), after_(std::move(after)),
          apply_(std::move(apply)) {
        last_.start();
    }

    void undo() override { apply_(before_); }
    void redo() override { apply_(after_); }
    [[nodiscard]] int id() const override { return key_.isEmpty() ? -1 : merging_id; }
    bool mergeWith(const QUndoCommand* other) override {
        const auto& next = static_cast<const JobCommand&>(*other);
        if (next.key_ != key_ || last_.elapsed() > merge_within_ms) return false;
        after_ = next.after_;
        last_.restart();
        setObsolete(after_ == before_);
        return true;
    }

private:
    QString key_;
    job::Job before_, after_;
    Apply apply_;
    QElapsedTimer last_;
};

const std::string* added_mark(const job::Job& before, const job::Job& after) {
    for (const job::Mark& mark : after.marks)
        if (!before.find(mark.id)) return &mark.id;
    return nullptr;
}

} // namespace

Session::Impl::Impl(Session& owner, Parts from)
    : session(owner), parts(std::move(from)), evaluator(std::make_shared<pipeline::Evaluator>()),
      files(&owner, pool, Lane::Newer::cancels), evaluating(&owner, pool, Lane::Newer::follows),
      printing(&owner, pool, Lane::Newer::cancels), solids(&owner, pool, Lane::Newer::cancels),
      ghosts(&owner, pool, Lane::Newer::cancels) {
    pool.setMaxThreadCount(5); // one a lane
    solid_timer.setSingleShot(true);
    solid_timer.setInterval(150);
    poll_timer.setInterval(100);
    QObject::connect(&solid_timer, &QTimer::timeout, &owner, [this] { build_solid(); });
    QObject::connect(&poll_timer, &QTimer::timeout, &owner, [this] { poll(); });
    QObject::connect(&history, &QUndoStack::cleanChanged, &owner, [this] { emit_changed(Change::document); });
}

Session::Session(Parts parts, QObject* parent)
    : QObject(parent), impl_(std::make_unique<Impl>(*this, std::move(parts))) {}

Session::~Session() {
    impl_->history.disconnect(); // its last change, being emptied, is nobody's business
    for (Lane* lane : {&impl_->files, &impl_->evaluating, &impl_->printing, &impl_->solids, &impl_->ghosts})
        lane->cancel();
    impl_->pool.waitForDone();
}

const job::Job& Session::job() const {
    return impl_->job;
}
std::shared_ptr<pipeline::Evaluator> Session::evaluator() const {
    return impl_->evaluator;
}
pipeline::Surroundings Session::surroundings() const {
    return impl_->surroundings();
}
part::PartPtr Session::part() const {
    return impl_->part;
}
const plate::Meshes& Session::meshes() const {
    return impl_->meshes;
}
std::shared_ptr<const std::vector<process::Process>> Session::processes() const {
    return impl_->parts.processes;
}
std::shared_ptr<const content::FontLibrary> Session::fonts() const {
    return impl_->parts.fonts;
}
std::shared_ptr<part::Reader> Session::reader() const {
    return impl_->parts.reader;
}
std::shared_ptr<const pipeline::Evaluation> Session::evaluation() const {
    return impl_->evaluation;
}
bool Session::evaluation_is_current() const {
    return impl_->evaluation && impl_->evaluation->job == impl_->job && impl_->judged_by == impl_->process_digest();
}
bool Session::evaluation_is_final() const {
    return evaluation_is_current() && !impl_->evaluating.busy() && !impl_->printing.busy();
}
std::shared_ptr<const pipeline::Marked> Session::solid() const {
    return impl_->solid;
}
std::shared_ptr<const SolidMeshes> Session::solid_meshes() const {
    return impl_->solid_meshes;
}
std::optional<Error> Session::solid_trouble() const {
    return impl_->solid_trouble;
}
QString Session::selected_mark() const {
    return impl_->selected_mark;
}
std::optional<std::size_t> Session::selected_finding() const {
    return impl_->selected_finding;
}
std::shared_ptr<const pipeline::Evaluation> Session::ghost() const {
    return impl_->ghost;
}
std::optional<Activity> Session::activity() const {
    return impl_->shown_activity;
}
std::filesystem::path Session::job_file() const {
    return impl_->job_file;
}
bool Session::modified() const {
    return impl_->part && !impl_->history.isClean();
}
QUndoStack& Session::history() {
    return impl_->history;
}
bool Session::in_gesture() const {
    return impl_->gesture_start.has_value();
}

const process::Process& Session::process() const {
    const auto& all = *impl_->parts.processes;
    for (const std::string& id : {impl_->job.process, job::Job().process})
        if (const auto found = std::ranges::find(all, id, &process::Process::id); found != all.end()) return *found;
    return all.front();
}

Digest Session::Impl::process_digest() const {
    Digester digester;
    add(digester, session.process());
    return digester.digest();
}

void Session::set_processes(std::shared_ptr<const std::vector<process::Process>> processes,
                            std::vector<process::LeftOut> left_out) {
    const Digest before = impl_->process_digest();
    impl_->parts.processes = std::move(processes);
    impl_->left_out = std::move(left_out);
    if (impl_->process_digest() == before) return impl_->emit_changed(Change::job);
    impl_->solid.reset();
    impl_->solid_meshes.reset();
    impl_->solid_trouble.reset();
    const bool had_ghost = std::exchange(impl_->ghost, nullptr) != nullptr;
    impl_->ghost_wanted = false;
    impl_->ghosts.cancel();
    impl_->evaluate();
    impl_->solid_timer.start();
    Changes changes = Change::job | Change::solid;
    if (had_ghost) changes |= Change::ghost;
    impl_->emit_changed(changes);
}

void Session::Impl::push(const QString& title, const QString& key, job::Job before, job::Job after) {
    history.push(new JobCommand(title, key, std::move(before), std::move(after), [this](const job::Job& next) {
        gesture_start.reset();
        set_job(next);
    }));
}

void Session::Impl::set_job(job::Job next) {
    if (next == job) return;
    const job::Job before = std::exchange(job, std::move(next));
    solid.reset();
    solid_meshes.reset();
    solid_trouble.reset();
    const bool had_ghost = std::exchange(ghost, nullptr) != nullptr;
    ghost_wanted = false;
    ghosts.cancel();
    keep_selection(before);
    evaluate();
    solid_timer.start();
    Changes changes = Change::job | Change::solid | Change::document;
    if (had_ghost) changes |= Change::ghost;
    emit_changed(changes);
}

void Session::Impl::keep_selection(const job::Job& before) {
    QString next = selected_mark;
    if (const std::string* added = added_mark(before, job)) next = text(*added);
    if (!next.isEmpty() && !job.find(next.toStdString())) next.clear();
    if (next == selected_mark) return;
    selected_mark = next;
    selected_finding.reset();
    emit_changed(Change::selection);
}

Status Session::edit(const QString& title, const job::Edit& edit) {
    return edit_merged(title, {}, edit);
}

Status Session::edit_merged(const QString& title, const QString& key, const job::Edit& edit) {
    if (!impl_->part) return fail("session.no_part", "There is no part to mark yet.", "Open a STEP file first.");
    end_gesture();
    Result<job::Job> next = edit(impl_->job);
    if (!next) return std::unexpected(next.error());
    if (*next != impl_->job) impl_->push(title, key, impl_->job, *std::move(next));
    return {};
}

void Session::begin_gesture(const QString& title) {
    end_gesture();
    if (!impl_->part) return;
    impl_->gesture_start = impl_->job;
    impl_->gesture_title = title;
}

Status Session::gesture(const job::Edit& edit) {
    if (!impl_->gesture_start) return fail("session.no_gesture", "The drag has already ended.");
    Result<job::Job> next = edit(*impl_->gesture_start);
    if (!next) return std::unexpected(next.error());
    impl_->set_job(*std::move(next));
    return {};
}

void Session::end_gesture() {
    if (!impl_->gesture_start) return;
    job::Job before = *std::exchange(impl_->gesture_start, std::nullopt);
    impl_->solid_timer.start(); // while the hand moved there was none
    if (before == impl_->job) return;
    impl_->push(impl_->gesture_title, {}, std::move(before), impl_->job);
    impl_->emit_changed(Change::document);
}

void Session::abandon_gesture() {
    if (!impl_->gesture_start) return;
    impl_->solid_timer.start();
    impl_->set_job(*std::exchange(impl_->gesture_start, std::nullopt));
}

void Session::select_mark(const QString& mark) {
    const QString next = impl_->job.find(mark.toStdString()) ? mark : QString();
    if (next == impl_->selected_mark && !impl_->selected_finding) return;
    impl_->selected_mark = next;
    impl_->selected_finding.reset();
    impl_->emit_changed(Change::selection);
}

void Session::select_finding(std::optional<std::size_t> finding) {
    const auto evaluation = impl_->evaluation;
    if (finding && (!evaluation || *finding >= evaluation->findings.size())) finding.reset();
    impl_->selected_finding = finding;
    if (finding) {
        const std::string& mark = evaluation->findings[*finding].mark;
        if (impl_->job.find(mark)) impl_->selected_mark = text(mark);
    }
    impl_->emit_changed(Change::selection); // also when it is the same one: fly there again
}

} // namespace touchmark::session
