// SPDX-License-Identifier: MIT
#include "app/panels/printed_picture.h"

#include "app/panels/look.h"
#include "app/panels/outline_thumbnail.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

namespace touchmark::panels {
namespace {

constexpr double deeper = 4; // times, in sections

QColor colour_of(const std::array<std::uint8_t, 3>& c) {
    return {c[0], c[1], c[2]};
}

/// 1, 2 or 5 times a power of ten, about a sixth of what is in sight.
double scale_length(double mm_in_sight) {
    const double about = mm_in_sight / 6, power = std::pow(10, std::floor(std::log10(about)));
    for (const double step : {5.0, 2.0})
        if (about >= step * power) return step * power;
    return power;
}

} // namespace

QImage image_of(const print::Picture& picture) {
    QImage image(picture.width, picture.height, QImage::Format_RGB32);
    for (int y = 0; y < picture.height; ++y) {
        auto* line = reinterpret_cast<QRgb*>(image.scanLine(y));
        for (int x = 0; x < picture.width; ++x) {
            const auto pixel = picture.at(x, y);
            line[x] = qRgb(pixel[0], pixel[1], pixel[2]);
        }
    }
    return image;
}

QImage image_of(const print::Brightness& picture) {
    QImage image(picture.width, picture.height, QImage::Format_RGB32);
    const float white = picture.values.empty() ? 1 : std::max(1e-6F, *std::ranges::max_element(picture.values));
    for (int y = 0; y < picture.height; ++y) {
        auto* line = reinterpret_cast<QRgb*>(image.scanLine(y));
        for (int x = 0; x < picture.width; ++x) {
            const int level = static_cast<int>(std::lround(255 * std::clamp(picture.at(x, y) / white, 0.0F, 1.0F)));
            line[x] = qRgb(level, level, level);
        }
    }
    return image;
}

PrintedPicture::PrintedPicture(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    setAccessibleName(tr("The printed mark"));
}

void PrintedPicture::show_image(QImage image, double mm) {
    shown_ = Image{std::move(image), mm};
    update();
}

void PrintedPicture::show_layer(LayerPicture layer) {
    shown_ = std::move(layer);
    update();
}

void PrintedPicture::show_words(const QString& words) {
    shown_ = words;
    update();
}

void PrintedPicture::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.setPen(QPen(palette().color(QPalette::Mid), 1));
    painter.setBrush(palette().color(QPalette::AlternateBase));
    painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
    const QRectF room = QRectF(rect()).adjusted(card_inset, card_inset, -card_inset, -card_inset - 3 * grid);
    if (std::holds_alternative<Image>(shown_)) return paint_image(painter, room);
    if (std::holds_alternative<LayerPicture>(shown_)) return paint_layer(painter, room);
    painter.setPen(palette().color(QPalette::PlaceholderText));
    painter.drawText(room, Qt::AlignCenter | Qt::TextWordWrap, std::get<QString>(shown_));
}

void PrintedPicture::paint_image(QPainter& painter, const QRectF& room) const {
    const Image& shown = std::get<Image>(shown_);
    if (shown.image.isNull()) return;
    const QSizeF size = QSizeF(shown.image.size()).scaled(room.size(), Qt::KeepAspectRatio);
    const QRectF place(room.center() - QPointF(size.width() / 2, size.height() / 2), size);
    painter.drawImage(place, shown.image);
    paint_scale(painter, room, size.width() / shown.mm);
}

void PrintedPicture::paint_layer(QPainter& painter, const QRectF& room) const {
    const LayerPicture& shown = std::get<LayerPicture>(shown_);
    const double tall = shown.across ? deeper : 1;
    // The mark stands over its section, both as wide as each other.
    const bool planned = shown.across && !shown.plan.isEmpty();
    const double plan = planned ? shown.plan.boundingRect().height() : 0, between = planned ? 3 * grid : 0;
    const double scale = std::min(room.width() / std::max(1e-6, shown.box.width()),
                                  (room.height() - between) / std::max(1e-6, shown.box.height() * tall + plan));
    const Vec2 middle = (shown.box.low + shown.box.high) * 0.5;
    const QPointF centre = room.center() + QPointF(0, (plan * scale + between) / 2);
    if (planned)
        paint_plan(painter, shown,
                   {centre.x() - middle.x * scale, centre.y() - shown.box.height() * tall * scale / 2 - between},
                   scale);
    painter.save();
    painter.translate(centre);
    painter.scale(scale, -scale * tall);
    painter.translate(-middle.x, -middle.y);
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::Mid));
    painter.drawPath(path_of(shown.regions->laid));
    painter.setBrush(colour_of(print::lost_colour));
    painter.drawPath(path_of(shown.regions->left_out));
    painter.setBrush(colour_of(print::fused_colour));
    painter.drawPath(path_of(shown.regions->fused));
    QPen outline(palette().color(QPalette::Text), 1);
    outline.setCosmetic(true);
    painter.setPen(outline);
    painter.setBrush(Qt::NoBrush);
    painter.drawPath(path_of(shown.regions->planned));
    painter.restore();
    paint_scale(painter, room, scale);
    if (!shown.across) return;
    painter.setPen(palette().color(QPalette::PlaceholderText));
    painter.drawText(QRectF(rect()).adjusted(card_inset, 0, -card_inset, -grid), Qt::AlignRight | Qt::AlignBottom,
                     tr("Section square to the face, %1 times as deep").arg(deeper));
}

void PrintedPicture::paint_plan(QPainter& painter, const LayerPicture& shown, QPointF foot, double scale) const {
    const QRectF box = shown.plan.boundingRect(); // its top is the lowest: y runs up
    painter.save();
    painter.translate(foot + QPointF(0, box.top() * scale));
    painter.scale(scale, -scale);
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::Mid));
    painter.drawPath(shown.plan);
    QPen line(palette().color(QPalette::Highlight), 1.5);
    line.setCosmetic(true);
    painter.setPen(line);
    painter.drawLine(QPointF(shown.box.low.x, shown.at_mm), QPointF(shown.box.high.x, shown.at_mm));
    painter.restore();
}

void PrintedPicture::paint_scale(QPainter& painter, const QRectF& room, double pixels_a_mm) const {
    const double mm = scale_length(room.width() / pixels_a_mm), y = height() - 2 * grid;
    const QPointF from(card_inset, y), to(card_inset + mm * pixels_a_mm, y);
    painter.setPen(QPen(palette().color(QPalette::Text), 1.5));
    painter.drawLine(from, to);
    for (const QPointF end : {from, to})
        painter.drawLine(end - QPointF(0, 3), end + QPointF(0, 3));
    painter.drawText(to + QPointF(grid, fontMetrics().ascent() / 2.0 - 1), tr("%1 mm").arg(mm));
}

} // namespace touchmark::panels
