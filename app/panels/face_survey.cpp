// SPDX-License-Identifier: MIT
#include "app/panels/face_survey.h"

#include <QElapsedTimer>
#include <QThread>

namespace touchmark::panels {

FaceSurvey::FaceSurvey(std::shared_ptr<const content::FontLibrary> fonts, std::filesystem::path cache, QObject* parent)
    : QObject(parent), fonts_(std::move(fonts)), measures_(std::make_shared<content::FaceMeasures>(std::move(cache))) {
    pool_.setMaxThreadCount(1);
    pool_.setThreadPriority(QThread::LowestPriority);
}

FaceSurvey::~FaceSurvey() {
    progress_->cancel();
    pool_.waitForDone();
}

void FaceSurvey::start(int weight) {
    if (running_ || weight == weight_) return;
    running_ = true;
    weight_ = weight;
    pool_.start([this, weight, fonts = fonts_, measures = measures_, progress = progress_] {
        constexpr qint64 between_words_ms = 250;
        QElapsedTimer since;
        since.start();
        bool fresh = false;
        for (const std::string& family : fonts->families()) {
            if (progress->cancelled()) break;
            const auto face = fonts->find(family, weight);
            if (!face || measures->known(*face)) continue;
            (void)measures->of(*face, *progress);
            fresh = true;
            if (since.elapsed() < between_words_ms) continue;
            since.restart();
            QMetaObject::invokeMethod(this, &FaceSurvey::measured, Qt::QueuedConnection);
        }
        if (fresh) (void)measures->save(); // a cache: without it the next run measures anew
        QMetaObject::invokeMethod(
            this,
            [this] {
                running_ = false;
                emit measured();
            },
            Qt::QueuedConnection);
    });
}

std::optional<content::FaceMeasure> FaceSurvey::measure(const std::string& family, int weight) const {
    const auto face = fonts_->find(family, weight);
    if (!face) return std::nullopt;
    const auto known = measures_->known(*face);
    return known && *known ? std::optional(**known) : std::nullopt;
}

} // namespace touchmark::panels
