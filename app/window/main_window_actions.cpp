// SPDX-License-Identifier: MIT
#include "app/panels/findings_list.h"
#include "app/panels/fit_dialog.h"
#include "app/panels/look.h"
#include "app/panels/marks_rail.h"
#include "app/panels/plate_strip.h"
#include "app/panels/print_window.h"
#include "app/panels/profile_dialog.h"
#include "app/panels/run_dialog.h"
#include "app/resources.h"
#include "app/window/banner.h"
#include "app/window/files.h"
#include "app/window/finder.h"
#include "app/window/main_window.h"
#include "app/window/process_menu.h"
#include "app/window/stage.h"
#include "app/window/welcome.h"
#include "core/process/extrusion.h"

#include <QDesktopServices>
#include <QFileInfo>
#include <QMenu>
#include <QMessageBox>
#include <QUrl>

namespace touchmark::window {

void MainWindow::connect_file_actions() {
    const Actions& act = *actions_;
    connect(&act["open"], &QAction::triggered, files_, &Files::ask_and_open);
    connect(&act["demo"], &QAction::triggered, files_, &Files::open_demo);
    connect(&act["save_job"], &QAction::triggered, files_, &Files::save_job);
    connect(&act["save_job_as"], &QAction::triggered, files_, &Files::save_job_as);
    connect(&act["save_step"], &QAction::triggered, files_, &Files::save_step);
    connect(&act["close"], &QAction::triggered, files_, &Files::close);
    connect(&act["quit"], &QAction::triggered, this, &QWidget::close);
}

void MainWindow::connect_edit_actions() {
    const Actions& act = *actions_;
    connect(&act["undo"], &QAction::triggered, this, [this] {
        if (session_->in_gesture())
            session_->abandon_gesture();
        else
            session_->history().undo();
    });
    connect(&act["redo"], &QAction::triggered, this, [this] {
        if (!session_->in_gesture()) session_->history().redo();
    });
    connect(&act["new_mark"], &QAction::triggered, marks_, &panels::MarksRail::place_new_mark);
    connect(&act["place_mark"], &QAction::triggered, stage_, &Stage::place_mark);
    connect(&act["edit_text"], &QAction::triggered, marks_, &panels::MarksRail::edit_selected_text);
    connect(&act["duplicate"], &QAction::triggered, this,
            [this] { edit_selected(tr("Duplicate mark"), &job::duplicate_mark); });
    connect(&act["delete"], &QAction::triggered, this, [this] { edit_selected(tr("Delete mark"), &job::remove_mark); });
    connect(&act["next_mark"], &QAction::triggered, this, &MainWindow::step_mark);
    connect(&act["next_finding"], &QAction::triggered, this, [this] { step_finding(1); });
    connect(&act["previous_finding"], &QAction::triggered, this, [this] { step_finding(-1); });
    connect(&act["first_fix"], &QAction::triggered, this, &MainWindow::apply_first_fix);
    connect(&act["lay_face"], &QAction::triggered, this, [this] { stage_->set_laying_face(true); });
    connect(&act["keep_clear"], &QAction::triggered, this, [this] { stage_->set_keeping_clear(true); });
    connect(&act["turn_left"], &QAction::triggered, this, [this] { plate_->turn_by(90); });
    connect(&act["turn_right"], &QAction::triggered, this, [this] { plate_->turn_by(-90); });
    connect(&act["fit_to_prints"], &QAction::triggered, this, &MainWindow::show_fit_to_prints);
    connect(&act["over_run"], &QAction::triggered, this, &MainWindow::show_over_the_run);
    connect(&act["pose_of_file"], &QAction::triggered, this, [this] {
        (void)session_->edit(tr("Stand as in the file"), [](const job::Job& job) { return job::set_pose(job, {}); });
    });
}

void MainWindow::connect_view_actions() {
    const Actions& act = *actions_;
    connect(&act["fit"], &QAction::triggered, stage_, &Stage::fit);
    connect(&act["zoom_mark"], &QAction::triggered, stage_, &Stage::zoom_to_selected_mark);
    act["shaded"].setChecked(true);
    connect(&act["shaded"], &QAction::toggled, stage_, &Stage::set_shaded);
    connect(&act["as_printed"], &QAction::toggled, this, [this](bool on) {
        stage_->set_printed(on);
        keep_printed_honest();
    });
    connect(&act["print_window"], &QAction::triggered, this, &MainWindow::show_print_window);
    connect(&act["measure"], &QAction::triggered, stage_, &Stage::set_measuring);
    connect(stage_, &Stage::measuring_changed, &act["measure"], &QAction::setChecked);
    const auto look = [&](const char* id, Vec3 from, Vec3 up) {
        connect(&act[id], &QAction::triggered, this, [this, from, up] { stage_->look(from, up); });
    };
    look("look_front", {0, -1, 0}, {0, 0, 1});
    look("look_right", {1, 0, 0}, {0, 0, 1});
    look("look_back", {0, 1, 0}, {0, 0, 1});
    look("look_left", {-1, 0, 0}, {0, 0, 1});
    look("look_top", {0, 0, 1}, {0, 1, 0});
    look("look_bottom", {0, 0, -1}, {0, 1, 0});
    for (const Appearance one : {Appearance::system, Appearance::light, Appearance::dark})
        connect(&act["appearance_" + key_of(one).toStdString()], &QAction::triggered, this, [this, one] {
            settings_.set_appearance(one);
            set_appearance(one);
        });
    connect(&act["find"], &QAction::triggered, this, &MainWindow::find_action);
    connect(&act["docs"], &QAction::triggered, this, &MainWindow::show_pages);
    connect(&act["about"], &QAction::triggered, this, &MainWindow::show_about);
}

void MainWindow::refresh_recent() {
    const QStringList files = settings_.recent();
    welcome_->set_recent(files);
    QMenu& menu = actions_->menu("File/Open recent");
    menu.clear();
    menu.setEnabled(!files.isEmpty());
    for (const QString& file : files) {
        QAction* action = menu.addAction(QFileInfo(file).fileName());
        action->setToolTip(file);
        connect(action, &QAction::triggered, this, [this, file] { files_->open(file); });
    }
}

void MainWindow::connect_profiles() {
    const auto take = [this] {
        session_->set_processes(shelf_->processes(), shelf_->profiles().left_out);
        fill_process_menu(actions_->menu("Part/Process"), shelf_->profiles(), (*actions_)["profiles"],
                          [this](const std::string& id) { use_process(id); });
        refresh_processes();
    };
    connect(shelf_.get(), &session::ProfileShelf::changed, this, take);
    connect(&(*actions_)["profiles"], &QAction::triggered, this, &MainWindow::show_profiles);
    take();
    tell_left_out();
}

void MainWindow::tell_left_out() {
    QStringList files;
    for (const process::LeftOut& one : shelf_->profiles().left_out)
        files += panels::text(one.file.filename().string() + ": " + one.error.message);
    if (!files.isEmpty()) banner_->show_notice(left_out_words(), files.join(u' '));
}

QString MainWindow::left_out_words() {
    return tr("Process profiles left out, for they cannot be used.");
}

/// What is not printed in simulation is not shown as it prints.
void MainWindow::keep_printed_honest() {
    const process::Process& process = session_->process();
    QAction& as_printed = (*actions_)["as_printed"];
    if (!as_printed.isChecked() || !session_->part() || process.printing) return;
    as_printed.setChecked(false);
    const Error why = process::no_simulated_print(process);
    banner_->show_notice(panels::text(why.message), panels::text(why.hint));
}

void MainWindow::use_process(const std::string& id) {
    (void)session_->edit(tr("Change process"), [id](const job::Job& job) { return job::set_process(job, id); });
    refresh_processes();
}

void MainWindow::refresh_processes() {
    check_process(actions_->menu("Part/Process"), session_->job().process);
}

void MainWindow::show_profiles() {
    if (!profiles_) {
        profiles_ = new panels::ProfileDialog(*session_, *shelf_, this);
        connect(profiles_, &panels::ProfileDialog::use_asked, this, &MainWindow::use_process);
    }
    profiles_->show_profile(session_->process().id);
    profiles_->show();
    profiles_->raise();
    profiles_->activateWindow();
}

void MainWindow::edit_selected(const QString& title, Result<job::Job> (*edit)(job::Job, std::string_view)) {
    const std::string mark = session_->selected_mark().toStdString();
    if (mark.empty()) return;
    if (const Status done = session_->edit(title, [mark, edit](const job::Job& job) { return edit(job, mark); }); !done)
        tell(done.error());
}

/// In the order of the list, round and round.
void MainWindow::step_finding(int by) {
    const auto evaluation = session_->evaluation();
    if (!evaluation || evaluation->findings.empty()) return;
    std::vector<std::size_t> order;
    for (const auto& group : panels::FindingsList::grouped(evaluation->findings))
        order.insert(order.end(), group.findings.begin(), group.findings.end());
    const auto now = session_->selected_finding();
    std::size_t at = by > 0 ? 0 : order.size() - 1;
    if (now)
        at = (static_cast<std::size_t>(std::ranges::find(order, *now) - order.begin()) + order.size() +
              static_cast<std::size_t>(by)) %
             order.size();
    session_->select_finding(order[at]);
}

void MainWindow::step_mark() {
    const auto& marks = session_->job().marks;
    if (marks.empty()) return;
    const auto now = std::ranges::find(marks, session_->selected_mark().toStdString(), &job::Mark::id);
    const bool last = now == marks.end() || now + 1 == marks.end();
    session_->select_mark(panels::text(last ? marks.front().id : (now + 1)->id));
}

void MainWindow::apply_first_fix() {
    const auto evaluation = session_->evaluation();
    if (!evaluation) return;
    std::vector<std::size_t> order;
    if (const auto selected = session_->selected_finding())
        order.push_back(*selected);
    else
        for (const auto& group : panels::FindingsList::grouped(evaluation->findings))
            order.insert(order.end(), group.findings.begin(), group.findings.end());
    for (const std::size_t index : order) {
        if (evaluation->findings[index].fixes.empty()) continue;
        const rules::Fix& fix = evaluation->findings[index].fixes.front();
        if (const Status done = session_->edit(panels::text(fix.title), fix.edit); !done) tell(done.error());
        return;
    }
    banner_->show_notice(tr("No fix is offered for this finding."), tr("Move the mark, or change its values by hand."));
}

void MainWindow::show_over_the_run() {
    if (!run_) {
        run_ = new panels::RunDialog(*session_, resources_folder() / "rates/planning.json", settings_.run(), this);
        connect(run_, &panels::RunDialog::figures_changed, this, [this] { settings_.set_run(run_->figures()); });
    }
    run_->show();
    run_->raise();
    run_->activateWindow();
}

void MainWindow::show_fit_to_prints() {
    if (!fit_) {
        fit_ = new panels::FitDialog(*session_, *shelf_, this);
        connect(fit_, &panels::FitDialog::use_asked, this, &MainWindow::use_process);
    }
    fit_->show();
    fit_->raise();
    fit_->activateWindow();
}

void MainWindow::find_action() {
    auto* finder = new Finder(actions_->all(), this);
    finder->show();
}

void MainWindow::show_print_window() {
    if (!print_window_) print_window_ = new panels::PrintWindow(*session_, this);
    print_window_->show();
    print_window_->raise();
    print_window_->activateWindow();
}

void MainWindow::show_pages() {
    std::error_code ignored;
    for (const auto& folder : {resources_folder() / "docs", resources_folder().parent_path() / "docs"})
        if (std::filesystem::is_directory(folder, ignored)) {
            QDesktopServices::openUrl(QUrl::fromLocalFile(QString::fromStdString(folder.string())));
            banner_->show_notice(
                tr("The pages are in %1").arg(QString::fromStdString(folder.lexically_normal().string())), {});
            return;
        }
    banner_->show_notice(tr("The pages are not installed here."),
                         tr("They lie in the folder docs of the program's source."));
}

void MainWindow::show_about() {
    banner_->show_notice(
        tr("Touchmark %1").arg(QStringLiteral(TOUCHMARK_VERSION)),
        tr("Marks on parts, and how they will print. MIT licence; with OpenCASCADE, Qt, VTK, FreeType and HarfBuzz."));
}

} // namespace touchmark::window
