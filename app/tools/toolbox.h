// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

#include <QObject>
#include <memory>

namespace touchmark::viewport {
class Viewport;
}

namespace touchmark::tools {

/// Every way of acting in a viewport, and what shows the session there. One for each viewport.
class Toolbox : public QObject {
    Q_OBJECT

public:
    /// REQUIRES: session and viewport outlive it.
    Toolbox(session::Session& session, viewport::Viewport& viewport, QObject* parent = nullptr);
    ~Toolbox() override;

    /// The next click on a face puts a mark there that says `text`.
    void place_mark(const QString& text);
    void set_laying_face(bool laying);
    /// Faces that are clicked are kept clear of marks, or released.
    void set_keeping_clear(bool keeping);
    void set_measuring(bool measuring);
    [[nodiscard]] bool placing() const;
    [[nodiscard]] bool laying_face() const;
    [[nodiscard]] bool keeping_clear() const;
    [[nodiscard]] bool measuring() const;
    /// Whether the part is shaded by how well it takes a mark; true at first.
    void set_shaded(bool shaded);
    /// Whether the marks are shown as they come out of the printer; false at first.
    void set_printed(bool printed);
    /// For the legend: the mode that the part is shaded for.
    [[nodiscard]] Mode shaded_mode() const;
    void zoom_to_selected_mark();

    /// Where the selected mark's handles are, widget coordinates; false when none are shown.
    [[nodiscard]] bool handles(QPointF& knob, QPointF& corner) const;

signals:
    void placing_changed(bool placing);
    void laying_face_changed(bool laying);
    void keeping_clear_changed(bool keeping);
    void measuring_changed(bool measuring);
    /// Typed while the viewport has the keys: for the selected mark's text. Empty: only go there.
    void text_typed(const QString& text);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::tools
