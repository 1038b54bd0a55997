// SPDX-License-Identifier: MIT
#include "app/session/lane.h"

#include <QThreadPool>

namespace touchmark::session {
namespace {
constexpr qint64 slow_ms = 200;
}

Lane::Lane(QObject* home, QThreadPool& pool, Newer newer) : home_(home), pool_(pool), newer_(newer) {}

void Lane::run(const QString& title, Work work) {
    if (!running_) {
        title_ = title;
        start(std::move(work));
        return;
    }
    waiting_ = std::move(work);
    waiting_title_ = title;
    if (newer_ == Newer::cancels || (since_.elapsed() > slow_ms && !cancelled_before_)) running_->progress->cancel();
}

void Lane::cancel() {
    waiting_ = nullptr;
    if (running_) running_->progress->cancel();
}

double Lane::fraction() const {
    if (!running_) return -1;
    const std::lock_guard lock(running_->mutex);
    return running_->fraction;
}

void Lane::start(Work work) {
    const auto piece = std::make_shared<Piece>();
    piece->progress = std::make_unique<Progress>([raw = piece.get()](double fraction, std::string_view) {
        const std::lock_guard lock(raw->mutex);
        raw->fraction = fraction;
    });
    running_ = piece;
    since_.start();
    pool_.start([this, piece, work = std::move(work)] {
        Deliver deliver = piece->progress->cancelled() ? Deliver() : work(*piece->progress);
        QMetaObject::invokeMethod(
            home_, [this, deliver = std::move(deliver)] { finished(deliver); }, Qt::QueuedConnection);
    });
}

void Lane::finished(const Deliver& deliver) {
    cancelled_before_ = running_->progress->cancelled();
    running_.reset();
    if (waiting_) {
        title_ = waiting_title_;
        start(std::exchange(waiting_, nullptr));
    }
    if (deliver && !cancelled_before_) deliver();
}

} // namespace touchmark::session
