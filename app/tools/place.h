// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

#include <functional>

namespace touchmark::tools {

/// What a drag from the marks rail carries; the data is the text of the new mark, UTF-8.
inline constexpr const char* mark_mime_type = "application/x-touchmark-mark";

/// A new mark follows the surface under the pointer, dragged from the marks rail or waiting for a click; dropping it is
/// one step to undo. Esc leaves everything as it was.
class PlaceTool : public viewport::Handler {
public:
    explicit PlaceTool(Surroundings& around) : around_(around) {}

    bool handle(QEvent& event) override;
    void paint(QPainter& painter) override;

    /// The next click on a face places a mark that says this.
    void start(const QString& text);
    void cancel();
    [[nodiscard]] bool running() const { return running_; }

    std::function<void(bool)> running_changed;

private:
    bool handle_drag(QEvent& event);
    bool handle_pointer(QEvent& event);
    void follow(QPointF at);
    bool drop(QPointF at);
    void run(bool running);
    void show_nothing();

    Surroundings& around_;
    bool running_ = false, dragged_ = false, on_face_ = false;
    QString text_, obstacle_;
    QPointF pointer_;
};

} // namespace touchmark::tools
