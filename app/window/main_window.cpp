// SPDX-License-Identifier: MIT
#include "app/window/main_window.h"

#include "app/panels/findings_list.h"
#include "app/panels/fit_dialog.h"
#include "app/panels/look.h"
#include "app/panels/marks_rail.h"
#include "app/panels/plate_strip.h"
#include "app/panels/profile_dialog.h"
#include "app/panels/run_dialog.h"
#include "app/session/counted.h"
#include "app/window/banner.h"
#include "app/window/busy_note.h"
#include "app/window/files.h"
#include "app/window/header.h"
#include "app/window/stage.h"
#include "app/window/welcome.h"

#include <QApplication>
#include <QCloseEvent>
#include <QFileInfo>
#include <QMenu>
#include <QMimeData>
#include <QSplitter>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace touchmark::window {
namespace {

QString dropped_file(const QMimeData& data) {
    for (const QUrl& url : data.urls())
        if (url.isLocalFile()) return url.toLocalFile();
    return {};
}

/// A pane of fixed measure that leaves what grows to the part.
QWidget* pane(QWidget* content, int least, int most) {
    content->setMinimumWidth(least);
    content->setMaximumWidth(most);
    return content;
}

process::Profiles plain(const std::vector<process::Process>& processes) {
    process::Profiles out;
    for (const process::Process& process : processes)
        out.all.push_back({process, process::Origin::built_in, {}, {}, {}, {}});
    return out;
}

} // namespace

MainWindow::MainWindow(Options options)
    : settings_(options.settings_file), session_(std::make_unique<session::Session>(options.parts)),
      shelf_(std::make_unique<session::ProfileShelf>(options.built_in.all.empty() ? plain(*options.parts.processes)
                                                                                  : std::move(options.built_in),
                                                     std::move(options.own_profiles))),
      actions_(std::make_unique<Actions>(*this)) {
    apply(*qApp, settings_.appearance()); // before any widget measures its font
    qApp->installEventFilter(this);
    setAcceptDrops(true);
    setMinimumSize(960, 600);
    resize(1440, 900);
    files_ = new Files(*session_, settings_, this);
    build();
    connect_session();
    connect_file_actions();
    connect_edit_actions();
    connect_view_actions();
    if (const QByteArray geometry = settings_.geometry(); !geometry.isEmpty()) restoreGeometry(geometry);
    if (const QByteArray panes = settings_.panes(); !panes.isEmpty()) bench_->restoreState(panes);
    set_appearance(settings_.appearance());
    connect_profiles();
    refresh_recent();
    on_changed(session::Change::part);
}

MainWindow::~MainWindow() {
    qApp->removeEventFilter(this);
    delete run_;
    delete profiles_;
    delete fit_;
    delete takeCentralWidget(); // what shows the session goes before it
}

void MainWindow::build() {
    header_ = new Header(*session_, *actions_, this);
    banner_ = new Banner(this);
    welcome_ = new Welcome(this);
    marks_ = new panels::MarksRail(*session_, this);
    stage_ = new Stage(*session_, this);
    findings_ = new panels::FindingsList(*session_, this);
    plate_ = new panels::PlateStrip(*session_, this);

    auto* middle = new QWidget(this);
    auto* middle_layout = new QVBoxLayout(middle);
    middle_layout->setContentsMargins(0, 0, 0, 0);
    middle_layout->setSpacing(0);
    auto* rule = new QFrame(middle);
    rule->setFixedHeight(1);
    rule->setAutoFillBackground(true);
    rule->setBackgroundRole(QPalette::Mid);
    middle_layout->addWidget(stage_, 1);
    middle_layout->addWidget(rule);
    middle_layout->addWidget(plate_);

    bench_ = new QSplitter(this);
    bench_->setHandleWidth(1);
    bench_->setChildrenCollapsible(false);
    bench_->addWidget(pane(marks_, 288, 440));
    bench_->addWidget(middle);
    bench_->addWidget(pane(findings_, 288, 480));
    bench_->setStretchFactor(0, 0);
    bench_->setStretchFactor(1, 1);
    bench_->setStretchFactor(2, 0);
    bench_->setSizes({296, 800, 320});

    pages_ = new QStackedWidget(this);
    pages_->addWidget(welcome_);
    pages_->addWidget(bench_);
    auto* whole = new QWidget(this);
    auto* layout = new QVBoxLayout(whole);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(0);
    layout->addWidget(header_);
    layout->addWidget(banner_);
    layout->addWidget(pages_, 1);
    setCentralWidget(whole);
    new BusyNote(*session_, pages_);
}

void MainWindow::connect_session() {
    using session::Session;
    connect(session_.get(), &Session::changed, this, &MainWindow::on_changed);
    connect(session_.get(), &Session::failed, this, &MainWindow::tell);
    connect(session_.get(), &Session::noticed, banner_, &Banner::show_notice);
    connect(session_.get(), &Session::opened, this, [this] {
        const bool unread = banner_->message() == left_out_words(); // a file was named when the program was started
        banner_->dismiss();
        if (unread) tell_left_out();
        stage_->fit();
    });
    connect(session_.get(), &Session::saved, this, [this](const QString& file, const QString& summary) {
        QString told = summary;
        if (const auto evaluation = session_->evaluation()) {
            const auto bad =
                std::ranges::count(evaluation->findings, rules::Severity::blocker, &rules::Finding::severity);
            if (bad > 0)
                told +=
                    u' ' +
                    tr("It still has %1 that will not print.").arg(session::counted(bad, tr("place"), tr("places")));
        }
        banner_->show_done(tr("Saved %1").arg(QFileInfo(file).fileName()), told);
    });
    connect(&session_->history(), &QUndoStack::indexChanged, this, &MainWindow::refresh_actions);
    connect(files_, &Files::failed, this, &MainWindow::tell);
    connect(files_, &Files::recent_changed, this, &MainWindow::refresh_recent);
    connect(files_, &Files::job_saved, this, [this](const QString& file) {
        banner_->show_done(tr("Saved %1").arg(QFileInfo(file).fileName()), tr("Open it again to go on from here."));
    });
    connect(marks_, &panels::MarksRail::failed, this, &MainWindow::tell);
    connect(stage_, &Stage::text_typed, marks_, &panels::MarksRail::type_text);
    connect(plate_, &panels::PlateStrip::pick_face_asked, &(*actions_)["lay_face"], &QAction::trigger);
    connect(stage_, &Stage::laying_face_changed, plate_, &panels::PlateStrip::set_picking);
    connect(welcome_, &Welcome::open_asked, files_, &Files::ask_and_open);
    connect(welcome_, &Welcome::demo_asked, files_, &Files::open_demo);
    connect(welcome_, &Welcome::file_asked, files_, &Files::open);
}

void MainWindow::on_changed(session::Changes changes) {
    using session::Change;
    if (changes & Change::part) {
        pages_->setCurrentWidget(session_->part() ? static_cast<QWidget*>(bench_) : welcome_);
        (session_->part() ? static_cast<QWidget*>(stage_) : welcome_)->setFocus(Qt::OtherFocusReason);
    }
    if (changes & (Change::part | Change::document | Change::job)) {
        const bool open = session_->part() != nullptr;
        const auto& named = session_->job_file().empty() ? session_->job().part.file : session_->job_file();
        setWindowTitle(open ? tr("%1[*] – Touchmark").arg(panels::text(named.filename().string())) : tr("Touchmark"));
        setWindowModified(session_->modified());
    }
    if (changes & (Change::part | Change::job)) {
        refresh_processes();
        keep_printed_honest();
    }
    if (changes & (Change::part | Change::job | Change::selection | Change::evaluation)) refresh_actions();
    if (changes & Change::solid)
        if (const auto trouble = session_->solid_trouble(); trouble && banner_->message().isEmpty())
            banner_->show_notice(panels::text(trouble->message), panels::text(trouble->hint));
}

void MainWindow::refresh_actions() {
    const Actions& act = *actions_;
    QUndoStack& history = session_->history();
    const bool open = session_->part() != nullptr, has_marks = !session_->job().marks.empty(),
               selected = !session_->selected_mark().isEmpty();
    const auto evaluation = session_->evaluation();
    const bool findings = evaluation && !evaluation->findings.empty();
    act["undo"].setEnabled(history.canUndo());
    act["undo"].setText(history.canUndo() ? tr("Undo: %1").arg(history.undoText()) : tr("Undo"));
    act["redo"].setEnabled(history.canRedo());
    act["redo"].setText(history.canRedo() ? tr("Redo: %1").arg(history.redoText()) : tr("Redo"));
    for (const char* id : {"save_job", "save_job_as", "close", "new_mark", "lay_face", "turn_left", "turn_right",
                           "pose_of_file", "fit", "place_mark", "measure", "shaded", "look_front", "look_right",
                           "look_back", "look_left", "look_top", "look_bottom", "over_run"})
        act[id].setEnabled(open);
    for (const char* id : {"edit_text", "duplicate", "delete", "zoom_mark"})
        act[id].setEnabled(selected);
    act["save_step"].setEnabled(has_marks);
    act["next_mark"].setEnabled(has_marks);
    for (const char* id : {"next_finding", "previous_finding", "first_fix"})
        act[id].setEnabled(findings);
    act.menu("Part/Process").setEnabled(open);
}

void MainWindow::tell(const Error& error) {
    banner_->show_error(error);
}

void MainWindow::set_appearance(Appearance appearance) {
    apply(*qApp, appearance);
    stage_->set_dark(is_dark(appearance));
    (*actions_)["appearance_" + key_of(appearance).toStdString()].setChecked(true);
}

void MainWindow::closeEvent(QCloseEvent* event) {
    if (!files_->may_leave()) return event->ignore();
    settings_.set_geometry(saveGeometry());
    settings_.set_panes(bench_->saveState());
    event->accept();
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
    if (!dropped_file(*event->mimeData()).isEmpty()) event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event) {
    const QString file = dropped_file(*event->mimeData());
    if (file.isEmpty()) return;
    event->acceptProposedAction();
    files_->open(file);
}

/// Undo and redo are the job's also while a field has the caret: a field's own would leave the job's history behind.
bool MainWindow::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::ShortcutOverride) {
        const QKeySequence pressed(static_cast<QKeyEvent*>(event)->keyCombination());
        const auto* widget = qobject_cast<const QWidget*>(watched);
        if (widget && (widget->window() == this || (run_ && widget->window() == run_)) &&
            (pressed == (*actions_)["undo"].shortcut() || pressed == (*actions_)["redo"].shortcut())) {
            event->ignore();
            return true;
        }
    }
    return QMainWindow::eventFilter(watched, event);
}

/// Esc backs out, the nearest thing first.
void MainWindow::keyPressEvent(QKeyEvent* event) {
    if (event->key() != Qt::Key_Escape) return QMainWindow::keyPressEvent(event);
    if (session_->in_gesture())
        session_->abandon_gesture();
    else if (session_->activity())
        session_->cancel_activity();
    else if (!banner_->message().isEmpty())
        banner_->dismiss();
    else if (session_->selected_finding())
        session_->select_finding(std::nullopt);
    else if (!session_->selected_mark().isEmpty())
        session_->select_mark({});
}

} // namespace touchmark::window
