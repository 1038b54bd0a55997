// SPDX-License-Identifier: MIT
#pragma once

#include <QPainter>
#include <QPolygonF>
#include <QWidget>

namespace touchmark::tools {

/// A few words on a sheet of their own beside a point, kept inside the widget.
void draw_label(QPainter& painter, const QWidget& widget, QPointF beside, const QString& words);
/// Words along the upper edge: what a running tool expects.
void draw_hint(QPainter& painter, const QWidget& widget, const QString& words);
/// A line of the accent that shows on every ground: on a wider one of the sheet's colour.
void draw_line(QPainter& painter, const QWidget& widget, const QPolygonF& line, double width = 1.5);
enum class Grip { square, round };
void draw_grip(QPainter& painter, const QWidget& widget, QPointF at, Grip shape, bool hot);

} // namespace touchmark::tools
