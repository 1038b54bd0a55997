// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/camera.h"

#include <QElapsedTimer>
#include <QObject>
#include <QPointF>
#include <QTimer>
#include <functional>

class QEvent;
class QKeyEvent;
class QMouseEvent;
class QWheelEvent;
class QWidget;

namespace touchmark::viewport {

/// Moves the camera: pointer, wheel, keys, flights.
class Navigation : public QObject {
public:
    struct World {
        /// What lies under a point of the widget, plate coordinates.
        std::function<std::optional<Vec3>(QPointF)> under;
        std::function<Box3()> box; ///< of the part as it stands
        std::function<void()> moved;
    };
    Navigation(QWidget& widget, World world);

    [[nodiscard]] const Camera& camera() const { return camera_; }
    [[nodiscard]] View view() const;
    [[nodiscard]] bool dragging() const { return drag_ != Drag::none; }
    [[nodiscard]] bool flying() const { return flight_.isActive(); }

    /// Events that no handler took; true when used.
    bool handle(QEvent& event);
    void fly(const Camera& to);
    void jump(const Camera& to);
    void arrive();
    /// The view of the whole part from where the camera is.
    [[nodiscard]] Camera whole(const Camera& direction) const;

private:
    enum class Drag { none, turn, pan };
    bool press(QMouseEvent& event);
    bool move(QMouseEvent& event);
    bool wheel(QWheelEvent& event);
    bool key(QKeyEvent& event);
    void zoom(double factor, QPointF at);
    void step_flight();

    QWidget& widget_;
    World world_;
    Camera camera_, from_, to_;
    QTimer flight_;
    QElapsedTimer flight_time_;
    Drag drag_ = Drag::none;
    Qt::MouseButton button_ = Qt::NoButton;
    QPointF last_;
    double pan_depth_ = 1; ///< mm along the view axis of what is held while panning
};

} // namespace touchmark::viewport
