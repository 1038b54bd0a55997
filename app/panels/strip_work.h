// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/lane.h"
#include "app/session/session.h"
#include "core/fitting/outlook.h"

#include <QThreadPool>
#include <QTimer>

namespace touchmark::panels {

/// What a sheet has said of a profile.
struct StripFindings {
    QString file; ///< of the sheet
    std::vector<fitting::Item> items;
    fitting::Sheet sheet;
    fitting::Fit fit;
    /// Of texts and codes; comes after the fit, for it takes longer.
    std::optional<std::vector<fitting::Outlook>> outlook{};
};

/// Makes test strips and fits profiles to their sheets in the background, one at a time.
class StripWork : public QObject {
    Q_OBJECT

public:
    explicit StripWork(session::Session& session, QObject* parent = nullptr);
    ~StripWork() override;

    /// The strip at `step`, and its sheet beside it.
    void save_strip(const process::Process& process, const QString& step);
    void fit(const process::Process& process, const QString& sheet);
    void cancel();
    /// Forgets what was fitted: it is of another profile.
    void forget();

    [[nodiscard]] bool busy() const { return lane_.busy(); }
    [[nodiscard]] const QString& doing() const { return lane_.title(); }
    [[nodiscard]] double fraction() const { return lane_.fraction(); } ///< negative: unknown
    [[nodiscard]] const std::optional<StripFindings>& found() const { return found_; }

signals:
    void moved(); ///< begun, moved on or ended
    void found_anew();
    void told(const QString& message);
    void failed(const touchmark::Error& error);

private:
    void run(const QString& title, session::Lane::Work work);
    void look_at_texts();
    void tell(const Error& error);

    session::Session& session_;
    QThreadPool pool_;
    session::Lane lane_;
    QTimer poll_;
    std::optional<StripFindings> found_;
};

} // namespace touchmark::panels
