#!/bin/sh
#SBATCH --job-name=lanelight
#SBATCH --array=1-8
#SBATCH --cpus-per-task=1
#SBATCH --output=part-%a.log
# One scrimmage as a job array of Slurm: each job plays one part. Hand it in, then put the parts together:
#   sbatch --wait slurm.sh 100000 demo && lanelight merge part-*-of-8 --summary-json figures.json
set -eu
possessions=${1:-100000}
scenario=${2:-demo}
parts=${SLURM_ARRAY_TASK_COUNT:?this is to be handed to sbatch}
part=$SLURM_ARRAY_TASK_ID
${LANELIGHT:-lanelight} scrimmage "$scenario" --possessions "$possessions" --threads 1 \
    --part "$part/$parts" --part-file "part-$part-of-$parts"
