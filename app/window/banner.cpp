// SPDX-License-Identifier: MIT
#include "app/window/banner.h"

#include "app/panels/look.h"
#include "app/panels/severity_mark.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QPushButton>

namespace touchmark::window {
using panels::grid;

Banner::Banner(QWidget* parent)
    : QFrame(parent), message_(panels::wrapping_label(this)), hint_(panels::wrapping_label(this)),
      close_(new QPushButton(tr("Close"), this)) {
    message_->setFont(panels::strong_font(*message_));
    message_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    hint_->setForegroundRole(QPalette::PlaceholderText);
    close_->setAccessibleName(tr("Close this note"));
    auto* words = new QVBoxLayout;
    words->setSpacing(2);
    words->addWidget(message_);
    words->addWidget(hint_);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(2 * grid + 12 + grid, grid, 2 * grid, grid);
    layout->setSpacing(2 * grid);
    layout->addLayout(words, 1);
    layout->addWidget(close_, 0, Qt::AlignVCenter);
    connect(close_, &QPushButton::clicked, this, &Banner::dismiss);
    going_.setSingleShot(true);
    connect(&going_, &QTimer::timeout, this, &Banner::dismiss);
    hide();
}

void Banner::show_words(Kind kind, const QString& message, const QString& hint) {
    kind_ = kind;
    message_->setText(message);
    hint_->setText(hint);
    hint_->setVisible(!hint.isEmpty());
    setAccessibleName(message + u' ' + hint);
    going_.stop();
    show();
    update();
}

void Banner::show_error(const Error& error) {
    show_words(Kind::error, panels::text(error.message), panels::text(error.hint));
}
void Banner::show_notice(const QString& message, const QString& hint) {
    show_words(Kind::notice, message, hint);
}

void Banner::show_done(const QString& message, const QString& detail) {
    show_words(Kind::done, message, detail);
    going_.start(10'000);
}

void Banner::dismiss() {
    going_.stop();
    hide();
}

QString Banner::message() const {
    return isVisible() ? message_->text() : QString();
}

void Banner::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.fillRect(rect(), palette().color(QPalette::Base));
    painter.fillRect(QRect(0, height() - 1, width(), 1), palette().color(QPalette::Mid));
    std::optional<rules::Severity> shape;
    if (kind_ == Kind::error) shape = rules::Severity::blocker;
    if (kind_ == Kind::notice) shape = rules::Severity::advice;
    panels::paint_severity(painter, QRectF(2 * grid, grid + 4, 12, 12), shape, palette().color(QPalette::WindowText));
}

} // namespace touchmark::window
