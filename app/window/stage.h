// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QWidget>
#include <memory>

namespace touchmark::viewport {
class Viewport;
}

namespace touchmark::window {

/// The part in the middle: the viewport, the tools that act in it, the legend at its side.
class Stage : public QWidget {
    Q_OBJECT

public:
    explicit Stage(session::Session& session, QWidget* parent = nullptr);
    ~Stage() override;

    [[nodiscard]] viewport::Viewport& viewport();
    void set_dark(bool dark);
    void fit();
    void zoom_to_selected_mark();
    void look(Vec3 from_direction, Vec3 up);
    /// The next face that is clicked is laid on the plate.
    void set_laying_face(bool laying);
    /// Faces that are clicked are kept clear of marks, or released.
    void set_keeping_clear(bool keeping);
    /// The next click on a face puts a mark there.
    void place_mark();
    void set_measuring(bool measuring);
    void set_shaded(bool shaded);
    void set_printed(bool printed);

protected:
    void resizeEvent(QResizeEvent* event) override;

signals:
    void laying_face_changed(bool laying);
    void measuring_changed(bool measuring);
    /// Over the picture; meant for the selected mark's text.
    void text_typed(const QString& text);

private:
    void refresh_legend();
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::window
