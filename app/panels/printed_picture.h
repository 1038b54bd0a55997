// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/appearance.h"
#include "core/print/layers.h"
#include "core/print/picture.h"

#include <QImage>
#include <QPainterPath>
#include <QWidget>
#include <variant>

namespace touchmark::panels {

[[nodiscard]] QImage image_of(const print::Picture& picture);
[[nodiscard]] QImage image_of(const print::Brightness& picture); ///< white is the brightest that it has

/// One layer of a mark, to be drawn from its polygons.
struct LayerPicture {
    std::shared_ptr<const print::Regions> regions;
    Box2 box;
    bool across = false; ///< a section: drawn deeper than it is, so that half a millimetre is to be seen
    QPainterPath plan{}; ///< of a section: the mark, over which a line shows where it runs; in the layers' frame, mm
    double at_mm = 0;    ///< where it runs, up the plan
};

/// A picture of a printed mark, as large as fits, with a scale in mm.
class PrintedPicture : public QWidget {
    Q_OBJECT

public:
    explicit PrintedPicture(QWidget* parent = nullptr);
    /// `mm`: how wide the image is.
    void show_image(QImage image, double mm);
    void show_layer(LayerPicture layer);
    /// In the place of a picture.
    void show_words(const QString& words);
    [[nodiscard]] QSize sizeHint() const override { return {640, 320}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 160}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void paint_image(QPainter& painter, const QRectF& room) const;
    void paint_layer(QPainter& painter, const QRectF& room) const;
    void paint_plan(QPainter& painter, const LayerPicture& shown, QPointF foot, double scale) const;
    void paint_scale(QPainter& painter, const QRectF& room, double pixels_a_mm) const;

    struct Image {
        QImage image;
        double mm;
    };
    std::variant<QString, Image, LayerPicture> shown_;
};

} // namespace touchmark::panels
