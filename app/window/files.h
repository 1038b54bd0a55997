// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"
#include "app/window/settings.h"

#include <QObject>

class QWidget;

namespace touchmark::window {

/// Opening and saving as a person does it: asks where, asks about unsaved changes, remembers.
class Files : public QObject {
    Q_OBJECT

public:
    Files(session::Session& session, Settings& settings, QWidget* window);

    void ask_and_open();
    /// Asks about unsaved changes first.
    void open(const QString& file);
    void open_demo();
    /// false: the person chose to stay, or saving failed.
    bool save_job();
    bool save_job_as();
    void save_step();
    void save_step_to(const QString& file);
    void close();
    /// true: nothing is lost by going on.
    [[nodiscard]] bool may_leave();

    [[nodiscard]] QString suggested_job() const;
    [[nodiscard]] QString suggested_step() const;

signals:
    void failed(const touchmark::Error& error);
    void job_saved(const QString& file);
    void recent_changed();

private:
    bool save_job_to(const QString& file);
    void remember(const QString& file);

    session::Session& session_;
    Settings& settings_;
    QWidget* window_;
};

} // namespace touchmark::window
