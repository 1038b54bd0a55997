// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/profile_shelf.h"
#include "app/session/session.h"
#include "app/window/actions.h"
#include "app/window/settings.h"

#include <QMainWindow>
#include <memory>

class QSplitter;
class QStackedWidget;

namespace touchmark::panels {
class FindingsList;
class FitDialog;
class MarksRail;
class PrintWindow;
class ProfileDialog;
class PlateStrip;
class RunDialog;
} // namespace touchmark::panels

namespace touchmark::window {

class Banner;
class Files;
class Header;
class Stage;
class Welcome;

/// The bench: header, marks rail, the part, findings list, plate strip.
class MainWindow : public QMainWindow {
    Q_OBJECT

public:
    struct Options {
        session::Session::Parts parts;
        QString settings_file;                ///< empty: the user's own
        process::Profiles built_in{};         ///< none: those of parts.processes
        std::filesystem::path own_profiles{}; ///< the folder of the user's own; empty: there are none
    };
    explicit MainWindow(Options options);
    ~MainWindow() override;

    [[nodiscard]] session::Session& session() { return *session_; }
    [[nodiscard]] Files& files() { return *files_; }
    [[nodiscard]] Stage& stage() { return *stage_; }
    [[nodiscard]] Banner& banner() { return *banner_; }
    [[nodiscard]] const Actions& actions() const { return *actions_; }
    void set_appearance(Appearance appearance);

protected:
    void closeEvent(QCloseEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void build();
    void connect_session();
    void connect_file_actions();
    void connect_edit_actions();
    void connect_view_actions();
    void on_changed(session::Changes changes);
    void refresh_actions();
    void refresh_recent();
    void connect_profiles();
    void tell_left_out();
    [[nodiscard]] static QString left_out_words();
    void refresh_processes();
    void keep_printed_honest();
    void use_process(const std::string& id);
    void show_profiles();
    void edit_selected(const QString& title, Result<job::Job> (*edit)(job::Job, std::string_view));
    void step_finding(int by);
    void step_mark();
    void apply_first_fix();
    void show_over_the_run();
    void show_fit_to_prints();
    void find_action();
    void show_print_window();
    void show_pages();
    void show_about();
    void tell(const Error& error);

    Settings settings_;
    std::unique_ptr<session::Session> session_;
    std::unique_ptr<session::ProfileShelf> shelf_;
    std::unique_ptr<Actions> actions_;
    Files* files_ = nullptr;
    Header* header_ = nullptr;
    Banner* banner_ = nullptr;
    Welcome* welcome_ = nullptr;
    Stage* stage_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    QSplitter* bench_ = nullptr;
    panels::MarksRail* marks_ = nullptr;
    panels::FindingsList* findings_ = nullptr;
    panels::PlateStrip* plate_ = nullptr;
    panels::PrintWindow* print_window_ = nullptr; ///< made when first wanted
    panels::RunDialog* run_ = nullptr;            ///< made when it is asked for
    panels::ProfileDialog* profiles_ = nullptr;   ///< made when it is asked for
    panels::FitDialog* fit_ = nullptr;            ///< made when it is asked for
};

} // namespace touchmark::window
