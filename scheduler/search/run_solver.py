"""Run CP-SAT so that it can be stopped, and around a fault of its presolve."""

import threading

from ortools.sat.python import cp_model


def run(
    solver: cp_model.CpSolver,
    model: cp_model.CpModel,
    stop: threading.Event,
    watch: cp_model.CpSolverSolutionCallback | None = None,
) -> cp_model.CpSolverStatus:
    """Solve in a thread, so that Ctrl-C reaches the program while the solver works.

    Parameters
    ----------
    solver : CpSolver
        With its parameters.
    model : CpModel
    stop : Event
        Ends the run early.
    watch : CpSolverSolutionCallback, optional
        Told of every better solution.

    Raises
    ------
    IndexError
        If the solver fails on its own account also without its risky presolve steps.
    """
    try:
        return _run(solver, model, stop, watch)
    except IndexError:
        # Presolve of ortools 9.15 loses a key of its own on some models (raw_hash_map::at); these steps avoid it.
        solver.parameters.symmetry_level = 0
        solver.parameters.keep_all_feasible_solutions_in_presolve = True
        return _run(solver, model, stop, watch)


def _run(
    solver: cp_model.CpSolver,
    model: cp_model.CpModel,
    stop: threading.Event,
    watch: cp_model.CpSolverSolutionCallback | None,
) -> cp_model.CpSolverStatus:
    answer: list[cp_model.CpSolverStatus] = []
    fault: list[Exception] = []

    def work() -> None:
        try:
            answer.append(solver.solve(model, watch))
        except Exception as error:
            fault.append(error)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(0.05)
        if stop.is_set():
            solver.stop_search()
    if fault:
        raise fault[0]
    return answer[0]
