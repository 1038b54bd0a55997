// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/lane.h"
#include "app/session/session.h"
#include "core/pipeline/compare.h"

#include <QThreadPool>
#include <QTimer>

namespace touchmark::panels {

/// Works out in the background what the session's marks add to the part, and how one of them would do otherwise; anew
/// whenever the job has changed and nobody edits it for a moment. Idle until it is asked to watch.
class RunReckoner : public QObject {
    Q_OBJECT

public:
    explicit RunReckoner(session::Session& session, QObject* parent = nullptr);
    ~RunReckoner() override;

    void watch(bool on);
    /// Of the job as it was when they were worked out.
    [[nodiscard]] const job::Job& job() const { return job_; }
    [[nodiscard]] const std::vector<pipeline::MarkExtra>& extras() const { return extras_; }
    [[nodiscard]] const std::optional<Error>& trouble() const { return trouble_; } ///< why there are none
    [[nodiscard]] bool current() const;                                            ///< of the job as it is

    /// An empty mark: no more comparing.
    void compare(const std::string& mark, const run::Rates& rates, std::int64_t units);
    [[nodiscard]] const std::string& compared() const { return mark_; }
    [[nodiscard]] const std::vector<pipeline::Alternative>& alternatives() const { return alternatives_; }
    [[nodiscard]] bool comparing() const;
    [[nodiscard]] double fraction() const { return comparing_.fraction(); } ///< negative: unknown
    void reforecast(const run::Rates& rates, std::int64_t units);

signals:
    void reckoned();
    void compared_anew(); ///< begun, moved on, or done

private:
    void on_changed(session::Changes changes);
    void start();
    void start_comparing();

    session::Session& session_;
    QThreadPool pool_;
    session::Lane reckoning_, comparing_;
    QTimer pause_, poll_;
    bool watching_ = false, wanted_ = false;
    job::Job job_;
    std::vector<pipeline::MarkExtra> extras_;
    std::optional<Error> trouble_;
    std::string mark_;
    std::vector<pipeline::Alternative> alternatives_;
    run::Rates rates_;
    std::int64_t units_ = 1;
};

} // namespace touchmark::panels
