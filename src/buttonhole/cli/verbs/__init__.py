"""All verbs put together; only the parser is imported here, a verb imports its work when run."""

import typer

from buttonhole.cli.verbs import (
    arc_map,
    body_map,
    coupon,
    cues,
    evidence,
    inside,
    job,
    joint,
    judge,
    labels,
    learning,
    method,
    photo,
    predict,
    procedure,
    propose,
    record,
    record_keep,
    record_sign,
    release,
    rules,
    run,
    serving,
    set_up,
    shop_checks,
    sources,
    steel,
    strength,
    tip,
    training,
    weld,
    what_if,
    window,
)
from buttonhole.cli.words import _


def _group(text: str, *, alone: bool = False) -> typer.Typer:
    return typer.Typer(
        help=text,
        no_args_is_help=not alone,
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
    )


app = _group(
    _(
        "Predicts, tests, releases and records the welds of vehicle body repair. "
        "The vehicle maker's procedure always comes first."
    )
)
app.command("predict", short_help=_("What a weld will be, with 90 % intervals."))(predict.predict)
app.command("window", short_help=_("The currents between too small and splash."))(window.window)
app.command("run", short_help=_("One weld after the other: how warm the caps get."))(run.run)
app.command("propose", short_help=_("A set-up from physics, inside what a machine can do."))(
    propose.propose
)
app.command("strength", short_help=_("What welds hold, how they let go, how many it takes."))(
    strength.strength
)
app.command("judge", short_help=_("What torn welds mean under a rule."))(judge.judge)
app.command("learn", short_help=_("What coupons teach about a machine, and whether to release."))(
    learning.learn
)
app.command("plan", short_help=_("Which set-up the next coupon should be welded with."))(
    learning.plan
)
app.command("diagnose", short_help=_("Why a weld failed, and what to look at first."))(
    learning.diagnose
)
app.command("drift", short_help=_("What start and end coupon of some work say together."))(
    shop_checks.drift
)
app.command("watch", short_help=_("A gun over time: its chart, its dress interval, re-checks."))(
    shop_checks.watch
)
app.command("supply", short_help=_("What an extension lead takes of the voltage."))(
    shop_checks.supply
)
app.command("gauge", short_help=_("Whether gauge and readers can tell welds apart."))(
    shop_checks.gauge
)
app.command("inside", short_help=_("What is fused inside a plug, by what can be seen on it."))(
    inside.inside
)
app.command("what-if", short_help=_("What one change would make of a plug or a seam."))(
    what_if.what_if
)
app.command("cues", short_help=_("What the model explains of what the trade looks for."))(cues.cues)
app.command("arc-map", short_help=_("What wire feed and distance make of current."))(
    arc_map.arc_map
)
app.command("method", short_help=_("Which way a joint may be joined, and why not another."))(
    method.method
)
app.command("letter", short_help=_("Draft the question to the vehicle maker as PDF."))(
    method.letter
)

of_rules = _group(
    _("Rules as data: alone, those for the smallest diameter; else for the way of joining."),
    alone=True,
)
of_rules.callback(invoke_without_command=True)(rules.diameters)
of_rules.command("list")(rules.list_)
of_rules.command("show")(rules.show)
of_rules.command("file")(rules.file)
app.add_typer(of_rules, name="rules")

of_job = _group(_("A vehicle, what is made safe, and its joints."))
of_job.command("open")(job.open_)
of_job.command("list")(job.list_)
of_job.command("show")(job.show)
of_job.command("gate")(job.gate)
of_job.command("intake")(job.intake)
of_job.command("vin")(job.vin)
of_job.command("map")(body_map.map_)
app.add_typer(of_job, name="job")

of_joint = _group(_("What meets where."))
of_joint.command("add")(joint.add)
of_joint.command("change")(joint.change)
of_joint.command("show")(joint.show)
of_joint.command("place")(body_map.place)
of_joint.command("predict")(joint.predict)
of_joint.command("file")(joint.file)
of_joint.command("differences")(shop_checks.differences)
of_joint.command("circumstances")(method.circumstances)
of_joint.command("method")(method.choose)
app.add_typer(of_joint, name="joint")

of_procedure = _group(_("By which authority a joint is welded."))
of_procedure.command("cite")(procedure.cite)
of_procedure.command("deviate")(procedure.deviate)
app.add_typer(of_procedure, name="procedure")

of_set_up = _group(_("What is set on the gun."))
of_set_up.command("propose")(set_up.propose)
of_set_up.command("accept")(set_up.accept)
app.add_typer(of_set_up, name="set-up")

of_coupon = _group(_("Weld one, tear it, read it."))
of_coupon.command("weld")(coupon.weld)
of_coupon.command("read")(coupon.read)
of_coupon.command("why")(coupon.why)
of_coupon.command("sheet")(coupon.sheet)
of_coupon.command("plan")(labels.plan)
of_coupon.command("labels")(labels.labels)
of_coupon.command("label")(labels.label)
of_coupon.command("tie")(labels.tie)
app.add_typer(of_coupon, name="coupon")

of_tip = _group(_("The working ends of the electrodes."))
of_tip.command("dress")(tip.dress)
app.add_typer(of_tip, name="tip")

app.command("release", short_help=_("Release a set-up, with an end, or say what is missing."))(
    release.release
)
app.command("end", short_help=_("End a release because of something that happened."))(release.end)
app.command("card", short_help=_("Print the bay card of a release as PDF."))(release.card)

of_weld = _group(_("The welds on the vehicle, one by one."))
of_weld.command("plan")(weld.plan)
of_weld.command("made")(weld.made)
of_weld.command("undo")(weld.undo)
of_weld.command("show")(weld.show)
of_weld.command("check")(weld.check)
of_weld.command("close")(weld.close)
app.add_typer(of_weld, name="weld")

of_training = _group(_("A training day: labels, results, who is ready."))
of_training.command("open")(training.open_)
of_training.command("list")(training.list_)
of_training.command("show")(training.show)
of_training.command("labels")(training.labels)
of_training.command("result")(training.result)
of_training.command("card")(training.card)
app.add_typer(of_training, name="training")

of_fire = _group(_("The fire watch after the last weld."))
of_fire.command("show")(weld.fire_show)
of_fire.command("set")(weld.fire_set)
of_fire.command("end")(weld.fire_end)
app.add_typer(of_fire, name="fire")

of_record = _group(_("What was written down, and whether it was altered."))
of_record.command("verify")(record.verify)
of_record.command("show")(record.show)
of_record.command("correct")(record.correct)
of_record.command("sign")(record_sign.sign)
of_record.command("key")(record_sign.key)
of_record.command("sign-entry")(record_sign.sign_entry)
of_record.command("witness")(record_sign.witness)
of_record.command("stamp")(record_sign.stamp)
of_record.command("archive")(record_keep.archive)
of_record.command("take-in")(record_keep.take_in)
of_record.command("back-up")(record_keep.back_up)
of_record.command("restore")(record_keep.restore)
of_record.command("drill")(record_keep.drill)
of_record.command("upgrade")(record_keep.upgrade)
of_record.command("person")(record_keep.person)
of_record.command("withhold")(record_keep.withhold)
of_record.command("evidence")(evidence.evidence)
of_record.command("guest")(evidence.guest)
of_record.command("retention")(record_keep.retention)
app.add_typer(of_record, name="record")

of_sources = _group(_("Where the program's numbers came from."))
of_sources.command("show")(sources.show)
app.add_typer(of_sources, name="sources")

of_steel = _group(_("The steel book: designations, coatings, curves, and an unknown sheet."))
of_steel.command("find")(steel.find)
of_steel.command("show")(steel.show)
of_steel.command("list")(steel.list_)
of_steel.command("coating")(steel.coating)
of_steel.command("unknown")(steel.unknown)
app.add_typer(of_steel, name="steel")

of_photo = _group(_("Diameters of a torn weld in a photo with a printed gauge card."))
of_photo.command("card")(photo.card)
of_photo.command("read")(photo.read)
app.add_typer(of_photo, name="photo")

app.command("serve", short_help=_("Serve the pages of the record."))(serving.serve)
app.command("demo", short_help=_("Load the demonstration and serve it."))(serving.demo)
app.command("warm", short_help=_("Compile the solver ahead of the first weld."))(serving.warm)
