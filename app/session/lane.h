// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"

#include <QElapsedTimer>
#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <mutex>

class QThreadPool;

namespace touchmark::session {

/// One strand of background work: at most one piece runs and one waits. A newer piece takes the place of the one that
/// waits. All members are called on the home's thread; the pool must be drained before the lane dies.
class Lane {
public:
    /// Called back on the home's thread.
    using Deliver = std::function<void()>;
    /// Runs on the pool; what it returns is delivered unless the work was cancelled meanwhile.
    using Work = std::function<Deliver(const Progress&)>;

    enum class Newer {
        cancels, ///< the running piece is of no use any more
        follows, ///< the running piece is still worth showing while the hand moves; only a slow one is cancelled, never
                 ///< two in a row
    };

    Lane(QObject* home, QThreadPool& pool, Newer newer);

    void run(const QString& title, Work work);
    /// Forgets what waits and what runs; nothing is delivered.
    void cancel();
    [[nodiscard]] bool busy() const { return running_ != nullptr; }

    /// Of the running piece.
    [[nodiscard]] qint64 elapsed_ms() const { return since_.elapsed(); }
    [[nodiscard]] const QString& title() const { return title_; }
    [[nodiscard]] double fraction() const;

private:
    struct Piece {
        std::mutex mutex;
        double fraction = -1;
        std::unique_ptr<Progress> progress;
    };
    void start(Work work);
    void finished(const Deliver& deliver);

    QObject* home_;
    QThreadPool& pool_;
    Newer newer_;
    Work waiting_;
    QString title_, waiting_title_;
    std::shared_ptr<Piece> running_;
    QElapsedTimer since_;
    bool cancelled_before_ = false;
};

} // namespace touchmark::session
