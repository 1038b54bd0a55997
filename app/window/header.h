// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"
#include "app/window/actions.h"

#include <QFrame>

class QLabel;
class QPushButton;

namespace touchmark::window {

/// The part, the process, how it stands, what is unsaved; and the one thing all this is for.
class Header : public QFrame {
    Q_OBJECT

public:
    Header(session::Session& session, const Actions& actions, QWidget* parent = nullptr);
    void refresh();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    session::Session& session_;
    QLabel *part_, *state_;
    QPushButton *process_, *pose_, *find_, *save_;
};

/// "3 edits not saved", "Saved", "Not saved yet" …
[[nodiscard]] QString saved_state(session::Session& session);
/// "Stands as in the file", "Turned 90°", "Laid on another side".
[[nodiscard]] QString pose_words(const plate::Pose& pose);

} // namespace touchmark::window
