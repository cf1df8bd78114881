"""Problems for the schedule: made by chance, written for the driver, answers read and judged. Nothing in here is taken from
the planner: what a schedule must keep to is written anew, from src/compute/schedule.h."""

import os
import subprocess

import harness

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "compute", "driver_schedule")
NEVER = None


class Task:
    def __init__(self, duration, hands=True, in_break=False, least=0, most=NEVER):
        self.duration, self.hands, self.in_break, self.least, self.most = duration, hands, in_break, least, most


class Job:
    """claims are (resource, amount, from task, to task, after); after are (job, task)."""

    def __init__(self, tasks, claims=(), after=(), value=1, urgent=False, done=None):
        self.tasks, self.claims, self.after = list(tasks), list(claims), list(after)
        self.value, self.urgent = value, urgent
        self.done = len(self.tasks) - 1 if done is None else done


class Problem:
    def __init__(self, jobs, resources=(), breaks=(), finish=NEVER, work=0):
        self.jobs, self.resources, self.breaks = list(jobs), list(resources), list(breaks)
        self.finish, self.work = finish, work

    def words(self):
        """As the driver reads it."""
        def time(figure):
            return -1 if figure is NEVER else figure
        out = [time(self.finish), self.work, len(self.resources), *self.resources, len(self.breaks)]
        out += [figure for pause in self.breaks for figure in pause]
        out.append(len(self.jobs))
        for job in self.jobs:
            out += [job.value, int(job.urgent), job.done, len(job.tasks)]
            for task in job.tasks:
                out += [task.duration, int(task.hands), int(task.in_break), task.least, time(task.most)]
            for many in (job.claims, job.after):
                out.append(len(many))
                out += [figure for one in many for figure in one]
        return " ".join(map(str, out)) + "\n"


class Answer:
    """starts: of each job, a list, or None where it is left."""

    def __init__(self, problem, lines):
        (self.value, self.end, self.value_bound, self.end_bound, proven, self.work, self.done,
         self.bytes) = map(int, next(lines).split())
        self.proven = bool(proven)
        self.order = list(map(int, next(lines).split()[1:]))
        self.starts, self.ends = [], []
        for _ in problem.jobs:
            words = next(lines).split()
            self.starts.append(None if words == ["-"] else list(map(int, words[1:])))
            self.ends.append(None if words == ["-"] else int(words[0]))

    def key(self, problem):
        """What is to be least: value, urgent jobs left, sum of their ends, end of all."""
        urgent = [end for job, end in zip(problem.jobs, self.ends) if job.urgent]
        return (-self.value, urgent.count(None), sum(end for end in urgent if end is not None), self.end)


def driven(problems):
    """The driver's output for problems, as text."""
    done = subprocess.run([DRIVER], input="".join(problem.words() for problem in problems), check=False, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if done.returncode != 0 or done.stderr:
        raise RuntimeError(f"status {done.returncode}: {done.stderr}")
    return done.stdout


def solved(problems):
    lines = iter(driven(problems).splitlines())
    return [Answer(problem, lines) for problem in problems]


# ---- what a schedule must keep to ----

def meet(one, other):
    """Whether two spans have a moment in common; one of no length has none."""
    return max(one[0], other[0]) < min(one[1], other[1])


def wrong_in_job(problem, answer, job_index):
    job, starts = problem.jobs[job_index], answer.starts[job_index]
    ends = [start + task.duration for start, task in zip(starts, job.tasks)]
    before = 0
    for number, (task, start, end) in enumerate(zip(job.tasks, starts, ends)):
        wait = start - before
        if wait < task.least or (task.most is not NEVER and wait > task.most):
            yield f"job {job_index} task {number} waits {wait}, wanted {task.least} to {task.most}"
        if task.hands or not task.in_break:
            for pause, duration in problem.breaks:
                if meet((start, end), (pause, pause + duration)):
                    yield f"job {job_index} task {number} at {start} is in the break at {pause}"
        if problem.finish is not NEVER and end > problem.finish and (number == job.done or task.hands and task.duration):
            yield f"job {job_index} task {number} ends at {end}, behind the finish"
        before = end
    if answer.ends[job_index] != ends[job.done]:
        yield f"job {job_index} is said to end at {answer.ends[job_index]}, ends at {ends[job.done]}"
    for other, task in job.after:
        if answer.starts[other] is None:
            yield f"job {job_index} is done without job {other}"
        elif answer.starts[other][task] + problem.jobs[other].tasks[task].duration > starts[0]:
            yield f"job {job_index} starts before task {task} of job {other} has ended"


def wrong_in_hands(problem, answer):
    spans = sorted((start, start + task.duration, index, number) for index, job in enumerate(problem.jobs)
                   if answer.starts[index] for number, (task, start) in enumerate(zip(job.tasks, answer.starts[index]))
                   if task.hands and task.duration > 0)
    for one, other in zip(spans, spans[1:]):
        if meet(one, other):
            yield f"one pair of hands for {one} and {other}"


def wrong_in_resources(problem, answer):
    for resource, amount in enumerate(problem.resources):
        changes = []
        for index, job in enumerate(problem.jobs):
            for which, taken, first, last, after in job.claims:
                if answer.starts[index] and which == resource:
                    start = answer.starts[index][first]
                    end = answer.starts[index][last] + job.tasks[last].duration + after
                    changes += [(start, 1, taken), (end, 0, -taken)] if end > start else []
        used = 0
        for time, _, change in sorted(changes):
            used += change
            if used > amount:
                yield f"{used} of resource {resource} at {time}, there are {amount}"
                break


def wrong_in(problem, answer):
    """All that is wrong with an answer, in words."""
    wrong = []
    done = [index for index, starts in enumerate(answer.starts) if starts is not None]
    for index in done:
        wrong += wrong_in_job(problem, answer, index)
    wrong += wrong_in_hands(problem, answer)
    wrong += wrong_in_resources(problem, answer)
    value = sum(problem.jobs[index].value for index in done)
    end = max((answer.starts[index][-1] + problem.jobs[index].tasks[-1].duration for index in done), default=0)
    if (value, end, len(done)) != (answer.value, answer.end, answer.done):
        wrong.append(f"said value, end and count {answer.value} {answer.end} {answer.done}, are {value} {end} {len(done)}")
    if answer.order != sorted(done, key=lambda index: (answer.starts[index][0], index)):
        wrong.append(f"order {answer.order}")
    if answer.value > answer.value_bound or (answer.end < answer.end_bound):
        wrong.append(f"better than its bounds: {answer.value} of {answer.value_bound}, {answer.end} of {answer.end_bound}")
    if answer.proven and (answer.value, answer.end) != (answer.value_bound, answer.end_bound):
        wrong.append("proven, but bounds differ")
    return wrong


# ---- problems by chance ----

def random_task(chance, longest):
    duration = chance.choice([0] + 6 * list(range(1, longest + 1)))
    least = chance.choice([0, 0, 0, 1, 2]) * max(1, longest // 3)
    most = chance.choice([NEVER, NEVER, least, least + chance.randint(0, longest), least])
    return Task(duration, chance.random() < 0.55, chance.random() < 0.5, least, most)


def random_job(chance, index, resources, tasks_most, longest):
    tasks = [random_task(chance, longest) for _ in range(chance.randint(1, tasks_most))]
    if tasks[0].most is not NEVER and chance.random() < 0.9:
        tasks[0].most = NEVER
    claims = []
    for _ in range(chance.choice([0, 1, 1, 2]) if resources else 0):
        resource, first = chance.randrange(len(resources)), chance.randrange(len(tasks))
        amount = chance.randint(1, resources[resource] + (chance.random() < 0.03))
        claims.append((resource, amount, first, chance.randrange(first, len(tasks)),
                       chance.choice([0, 0, 1, 2]) * max(1, longest // 3)))
    return Job(tasks, claims, [], chance.randint(1, 4), chance.random() < 0.25,
               chance.choice([None, chance.randrange(len(tasks))]))


def random_problem(chance, jobs, tasks_most, longest, horizon):
    """jobs of at most so many tasks; every third or so is like the one before it."""
    resources = [chance.randint(1, 3) for _ in range(chance.randint(0, 2))]
    made = []
    for index in range(jobs):
        if made and chance.random() < 0.35:
            like = made[-1]
            made.append(Job(like.tasks, like.claims, like.after, like.value, like.urgent, like.done))
        else:
            made.append(random_job(chance, index, resources, tasks_most, longest))
            for other in range(jobs):
                if other != index and chance.random() < 0.25 / jobs and other < len(made):
                    made[-1].after.append((other, chance.randrange(len(made[other].tasks))))
    breaks, time = [], 0
    for _ in range(chance.choice([0, 1, 1, 2])):
        time += chance.randint(0, horizon // 2)
        breaks.append((time, chance.randint(1, longest)))
        time += breaks[-1][1] + chance.randint(0, 2)
    finish = NEVER if chance.random() < 0.3 else chance.randint(horizon // 3, horizon)
    return Problem(made, resources, breaks, finish)
