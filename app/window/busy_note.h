// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QFrame>

class QLabel;
class QProgressBar;

namespace touchmark::window {

/// Long work, over the picture: what, how far, cancel. The window underneath stays alive.
class BusyNote : public QFrame {
    Q_OBJECT

public:
    BusyNote(session::Session& session, QWidget* parent);

protected:
    void paintEvent(QPaintEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void on_changed(session::Changes changes);
    void take_place();

    session::Session& session_;
    QLabel* text_;
    QProgressBar* bar_;
};

} // namespace touchmark::window
