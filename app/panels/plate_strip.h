// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QWidget>
#include <array>

class QLabel;
class QPushButton;

namespace touchmark::panels {

class QuantityField;

/// How the part stands: the side view and what turns it.
class PlateStrip : public QWidget {
    Q_OBJECT

public:
    explicit PlateStrip(session::Session& session, QWidget* parent = nullptr);
    /// By quarter turns about the vertical, counter-clockwise seen from above.
    void turn_by(double degrees);
    void set_picking(bool picking);

signals:
    /// A face that is to lie on the plate is to be picked in the picture.
    void pick_face_asked();

private:
    void on_changed(session::Changes changes);
    QWidget* build_controls();
    void set_angle(std::size_t axis, double degrees);

    session::Session& session_;
    QPushButton* pick_ = nullptr;
    std::array<QuantityField*, 3> angles_{};
    QWidget* controls_ = nullptr;
};

} // namespace touchmark::panels
