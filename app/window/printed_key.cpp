// SPDX-License-Identifier: MIT
#include "app/window/printed_key.h"

#include "app/panels/look.h"
#include "core/print/picture.h"

#include <QPainter>

namespace touchmark::window {
namespace {

constexpr int swatch = 14;

QColor colour_of(const std::array<std::uint8_t, 3>& c) {
    return {c[0], c[1], c[2]};
}

} // namespace

PrintedKey::PrintedKey(QWidget* parent) : QWidget(parent) {
    setAccessibleName(tr("Colours of printed marks"));
    setAttribute(Qt::WA_TransparentForMouseEvents);
    setFont(panels::small_font(*this));
    resize(sizeHint());
    hide();
}

QList<PrintedKey::Row> PrintedKey::rows() const {
    return {{{}, tr("Marks as they print")},
            {colour_of(print::lost_colour), tr("planned, but lost")},
            {colour_of(print::fused_colour), tr("filled, but not planned")}};
}

QSize PrintedKey::sizeHint() const {
    int width = 0;
    for (const Row& row : rows())
        width = std::max(width, fontMetrics().horizontalAdvance(row.words) +
                                    (row.colour.isValid() ? swatch + panels::grid : 0));
    return {width + 2 * panels::card_inset,
            static_cast<int>(rows().size()) * (fontMetrics().height() + 4) + 2 * panels::grid};
}

void PrintedKey::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(palette().color(QPalette::Mid), 1));
    painter.setBrush(palette().color(QPalette::Base));
    painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
    int top = panels::grid;
    const int line = fontMetrics().height() + 4;
    for (const Row& row : rows()) {
        int left = panels::card_inset;
        painter.setPen(palette().color(row.colour.isValid() ? QPalette::WindowText : QPalette::PlaceholderText));
        if (row.colour.isValid()) {
            painter.fillRect(QRect(left, top + (line - swatch) / 2, swatch, swatch), row.colour);
            left += swatch + panels::grid;
        }
        painter.drawText(QRect(left, top, width() - left, line), Qt::AlignVCenter, row.words);
        top += line;
    }
}

} // namespace touchmark::window
