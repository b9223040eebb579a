"""Looking up what the workshop keeps by its address."""

from django.conf import settings
from django.http import Http404

from fingertight.store.models import Job, MachineVersion, Workshop
from fingertight.store.versions import newest_of

MOST_BESIDE = 30


def the_workshop() -> Workshop:
    """The one workshop of this installation; made empty when there is none."""
    return Workshop.objects.order_by("id").first() or Workshop.objects.create(name="My workshop")


def newest_versions(workshop: Workshop) -> list[MachineVersion]:
    """Each machine's newest text, by name."""
    slugs = MachineVersion.objects.filter(workshop=workshop).values_list("slug", flat=True).distinct()
    found = (newest_of(workshop, slug) for slug in slugs)
    return sorted((version for version in found if version), key=lambda version: version.name)


def machine_at(slug: str) -> MachineVersion:
    """The newest text of the machine at this address. Raises Http404."""
    version = newest_of(the_workshop(), slug)
    if version is None:
        raise Http404(slug)
    return version


def job_at(slug: str) -> Job:
    """The job at this address, its machine's text with it; remembered, until its row is changed (`forget_job`).

    Raises Http404.
    """
    key = (str(settings.DATABASES["default"]["NAME"]), slug)
    if key not in _jobs:
        job = (
            Job.objects.select_related("machine_version", "workshop").filter(workshop=the_workshop(), slug=slug).first()
        )
        if job is None:
            raise Http404(slug)
        _jobs[key] = job
    return _jobs[key]


def forget_job(slug: str) -> None:
    """The row of a job was changed: look it up again."""
    _jobs.pop((str(settings.DATABASES["default"]["NAME"]), slug), None)


def jobs_beside(job: Job) -> list[Job]:
    """The other jobs on the same text of the same machine, the newest first, no more than a class has."""
    alike = Job.objects.select_related("machine_version", "workshop").filter(
        workshop=job.workshop, machine=job.machine, machine_sha256=job.machine_sha256
    )
    return list(alike.exclude(id=job.id).order_by("-started")[:MOST_BESIDE])


_jobs: dict[tuple[str, str], Job] = {}
