'use server'

import { revalidatePath } from 'next/cache'
import {
  correctMinutes,
  declareOpen,
  finishJob,
  giveUpJob,
  goOnWithJob,
  pauseJob,
  putBack,
  startJob,
} from '../../../../../lib/shop/job-runs'
import { answerQuestion, askManager } from '../../../../../lib/shop/questions'
import { notePart, takeBackPart } from '../../../../../lib/shop/spends'
import { formDoor } from '../../../../../lib/web/form-door'

/** Work moves locks, stages and the estimate, so every page of the bike and the queue are drawn anew. */
const after = async () => revalidatePath('/', 'layout')

export const startJobAction = formDoor(startJob, { after })
export const pauseJobAction = formDoor(pauseJob, { after })
export const goOnWithJobAction = formDoor(goOnWithJob, { after })
export const finishJobAction = formDoor(finishJob, { after })
export const giveUpJobAction = formDoor(giveUpJob, { after })
export const correctMinutesAction = formDoor(correctMinutes, { after })
export const declareOpenAction = formDoor(declareOpen, { after })
export const putBackAction = formDoor(putBack, { after })
export const askManagerAction = formDoor(askManager, { after })
export const answerQuestionAction = formDoor(answerQuestion, { after })
export const notePartAction = formDoor(notePart, { after })
export const takeBackPartAction = formDoor(takeBackPart, { after })
