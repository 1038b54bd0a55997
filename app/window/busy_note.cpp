// SPDX-License-Identifier: MIT
#include "app/window/busy_note.h"

#include "app/panels/look.h"

#include <QEvent>
#include <QHBoxLayout>
#include <QPainter>
#include <QProgressBar>
#include <QPushButton>

namespace touchmark::window {
using panels::grid;

BusyNote::BusyNote(session::Session& session, QWidget* parent)
    : QFrame(parent), session_(session), text_(new panels::ElidedLabel(this)), bar_(new QProgressBar(this)) {
    bar_->setTextVisible(false);
    auto* cancel = new QPushButton(tr("Cancel"), this);
    cancel->setAccessibleName(tr("Cancel what is going on"));
    connect(cancel, &QPushButton::clicked, &session_, &session::Session::cancel_activity);
    auto* left = new QVBoxLayout;
    left->setSpacing(grid);
    left->addWidget(text_);
    left->addWidget(bar_);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(panels::card_inset, panels::card_inset, panels::card_inset, panels::card_inset);
    layout->setSpacing(2 * grid);
    layout->addLayout(left, 1);
    layout->addWidget(cancel);
    hide();
    parent->installEventFilter(this);
    connect(&session_, &session::Session::changed, this, &BusyNote::on_changed);
}

void BusyNote::on_changed(session::Changes changes) {
    if (!(changes & session::Change::activity)) return;
    const auto activity = session_.activity();
    setVisible(activity.has_value());
    if (!activity) return;
    static_cast<panels::ElidedLabel*>(text_)->set_text(activity->text);
    setAccessibleName(activity->text);
    if (activity->fraction < 0) {
        bar_->setRange(0, 0);
    } else {
        bar_->setRange(0, 1000);
        bar_->setValue(static_cast<int>(activity->fraction * 1000));
    }
    take_place();
    raise();
}

void BusyNote::take_place() {
    const int wide = std::min(400, parentWidget()->width() - 4 * grid);
    const int high = sizeHint().height();
    setGeometry((parentWidget()->width() - wide) / 2, parentWidget()->height() - high - 3 * grid, wide, high);
}

void BusyNote::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(palette().color(QPalette::Midlight));
    painter.setBrush(palette().color(QPalette::Base));
    painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
}

bool BusyNote::eventFilter(QObject* watched, QEvent* event) {
    if (watched == parentWidget() && event->type() == QEvent::Resize && isVisible()) take_place();
    return QFrame::eventFilter(watched, event);
}

} // namespace touchmark::window
