// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"
#include "core/content/face_measures.h"

#include <QObject>
#include <QThreadPool>
#include <memory>

namespace touchmark::panels {

/// Measures the machine's faces in the background, one after the other, and keeps what it found for the next run.
class FaceSurvey : public QObject {
    Q_OBJECT

public:
    FaceSurvey(std::shared_ptr<const content::FontLibrary> fonts, std::filesystem::path cache,
               QObject* parent = nullptr);
    ~FaceSurvey() override;

    /// Every family's face nearest to this weight, unless they are being measured already.
    void start(int weight);
    [[nodiscard]] bool running() const { return running_; }
    /// nullopt: not measured yet, or without capitals and figures.
    [[nodiscard]] std::optional<content::FaceMeasure> measure(const std::string& family, int weight) const;

signals:
    /// Some more are known; a few times a second.
    void measured();

private:
    std::shared_ptr<const content::FontLibrary> fonts_;
    std::shared_ptr<content::FaceMeasures> measures_;
    std::shared_ptr<Progress> progress_ = std::make_shared<Progress>();
    QThreadPool pool_;
    bool running_ = false;
    int weight_ = 0; ///< of the last survey
};

} // namespace touchmark::panels
