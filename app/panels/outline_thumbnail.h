// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <QPainterPath>
#include <QWidget>

namespace touchmark::panels {

/// The outline's own curves, in mm, y up.
[[nodiscard]] QPainterPath path_of(const geometry::Outline& outline);

/// The true outline of a mark, as large as fits; a raised one is drawn filled, an engraved one cut out of a filled
/// field.
class OutlineThumbnail : public QWidget {
    Q_OBJECT

public:
    explicit OutlineThumbnail(QWidget* parent = nullptr);
    void set(QPainterPath path, bool cut);
    void set_cut(bool cut);
    [[nodiscard]] QSize sizeHint() const override { return {72, 48}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QPainterPath path_;
    bool cut_ = true;
};

} // namespace touchmark::panels
