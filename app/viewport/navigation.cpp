// SPDX-License-Identifier: MIT
#include "app/viewport/navigation.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QNativeGestureEvent>
#include <QWheelEvent>
#include <QWidget>
#include <algorithm>
#include <numbers>

namespace touchmark::viewport {
namespace {

constexpr double flight_ms = 200;
constexpr double turn_per_pixel = 0.0075; ///< radians
constexpr double key_turn = std::numbers::pi / 36;
constexpr double wheel_notch = 120;

} // namespace

Navigation::Navigation(QWidget& widget, World world) : widget_(widget), world_(std::move(world)) {
    camera_.azimuth = 0.6;
    camera_.elevation = 0.45;
    flight_.setInterval(8);
    flight_.setTimerType(Qt::PreciseTimer);
    connect(&flight_, &QTimer::timeout, this, &Navigation::step_flight);
}

View Navigation::view() const {
    return {camera_, std::max(1.0, static_cast<double>(widget_.width())),
            std::max(1.0, static_cast<double>(widget_.height()))};
}

Camera Navigation::whole(const Camera& direction) const {
    const View now = view();
    return fitted(direction, world_.box(), now.width / now.height);
}

void Navigation::fly(const Camera& to) {
    if (!widget_.isVisible()) {
        jump(to);
        return;
    }
    from_ = camera_;
    to_ = to;
    flight_time_.start();
    flight_.start();
}

void Navigation::jump(const Camera& to) {
    flight_.stop();
    if (camera_ == to) return;
    camera_ = to;
    world_.moved();
}

void Navigation::arrive() {
    if (flight_.isActive()) jump(to_);
}

void Navigation::step_flight() {
    const double share = static_cast<double>(flight_time_.elapsed()) / flight_ms;
    if (share >= 1) flight_.stop();
    camera_ = share >= 1 ? to_ : between(from_, to_, share);
    world_.moved();
}

bool Navigation::handle(QEvent& event) {
    switch (event.type()) {
    case QEvent::MouseButtonPress:
        return press(static_cast<QMouseEvent&>(event));
    case QEvent::MouseButtonDblClick:
        if (static_cast<QMouseEvent&>(event).button() != Qt::LeftButton) return press(static_cast<QMouseEvent&>(event));
        fly(whole(camera_));
        return true;
    case QEvent::MouseMove:
        return move(static_cast<QMouseEvent&>(event));
    case QEvent::MouseButtonRelease:
        if (static_cast<QMouseEvent&>(event).button() == button_) drag_ = Drag::none;
        return true;
    case QEvent::Wheel:
        return wheel(static_cast<QWheelEvent&>(event));
    case QEvent::NativeGesture: {
        const auto& gesture = static_cast<QNativeGestureEvent&>(event);
        if (gesture.gestureType() != Qt::ZoomNativeGesture) return false;
        zoom(1 / (1 + gesture.value()), gesture.position());
        return true;
    }
    case QEvent::KeyPress:
        return key(static_cast<QKeyEvent&>(event));
    default:
        return false;
    }
}

bool Navigation::press(QMouseEvent& event) {
    if (drag_ != Drag::none) return true;
    flight_.stop();
    button_ = event.button();
    last_ = event.position();
    drag_ = event.modifiers().testFlag(Qt::ShiftModifier) ? Drag::pan : Drag::turn;
    const std::optional<Vec3> held = world_.under(last_);
    pan_depth_ = held ? view().see(*held).depth : camera_.distance;
    return true;
}

bool Navigation::move(QMouseEvent& event) {
    if (drag_ == Drag::none) return false;
    const QPointF by = event.position() - last_;
    last_ = event.position();
    if (by.isNull()) return true;
    if (drag_ == Drag::turn) {
        camera_.turn(-by.x() * turn_per_pixel, by.y() * turn_per_pixel);
    } else {
        const double mm = 1 / view().pixels_per_mm(camera_.eye() - camera_.towards_eye() * pan_depth_);
        camera_.pan(by.x() * mm, -by.y() * mm);
    }
    world_.moved();
    return true;
}

void Navigation::zoom(double factor, QPointF at) {
    flight_.stop();
    const Box3 box = world_.box();
    const double size = box.empty() ? 100 : std::max(length(box.size()), 1.0);
    factor = std::clamp(factor, size * 0.002 / camera_.distance, size * 12 / camera_.distance);
    const View now = view();
    const View::Ray ray = now.ray(at.x(), at.y());
    const double along = camera_.distance / std::max(-dot(ray.direction, camera_.towards_eye()), 1e-6);
    camera_.zoom(factor, world_.under(at).value_or(ray.from + ray.direction * along));
    world_.moved();
}

bool Navigation::wheel(QWheelEvent& event) {
    const double notches = event.angleDelta().y() / wheel_notch;
    if (notches == 0) return false;
    zoom(std::pow(0.86, notches), event.position());
    return true;
}

bool Navigation::key(QKeyEvent& event) {
    if (event.modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) return false;
    const QPointF middle(widget_.width() / 2.0, widget_.height() / 2.0);
    switch (event.key()) {
    case Qt::Key_Left:
        camera_.turn(-key_turn, 0);
        break;
    case Qt::Key_Right:
        camera_.turn(key_turn, 0);
        break;
    case Qt::Key_Up:
        camera_.turn(0, key_turn);
        break;
    case Qt::Key_Down:
        camera_.turn(0, -key_turn);
        break;
    case Qt::Key_Plus:
        zoom(0.86, middle);
        return true;
    case Qt::Key_Minus:
        zoom(1 / 0.86, middle);
        return true;
    default:
        return false;
    }
    flight_.stop();
    world_.moved();
    return true;
}

} // namespace touchmark::viewport
