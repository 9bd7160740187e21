import { startJupyter } from '../notebook/start-jupyter.js';
import type { Command } from './command.js';

/** Opens Jupyter with the project's own kernel; exit code 6 where Jupyter is not installed. */
export const notebooks: Command = {
  name: 'notebooks',
  usage: 'notebooks [arguments for Jupyter]',
  summary: 'Opens the notebooks in Jupyter; says how to get it where it is not installed.',
  run: (args) => startJupyter([...args], process.env),
};
